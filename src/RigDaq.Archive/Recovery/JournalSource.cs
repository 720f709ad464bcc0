using RigDaq.Archive.Journaling;
using RigDaq.Archive.Records;
using RigDaq.Archive.Storage;

namespace RigDaq.Archive.Recovery;

/// <summary>What a journal holds, and what of it cannot be used.</summary>
/// <param name="Entries">The entries that can be done, in order.</param>
/// <param name="Damaged">Lines that are not as they were written; one that was cut off by a failed write was never kept and is
/// none.</param>
/// <param name="Unusable">Entries that are as they were written and cannot be done, with why.</param>
internal sealed record JournalSource(IReadOnlyList<JournalEntry> Entries, IReadOnlyList<JournalLine> Damaged,
    IReadOnlyList<(JournalEntry Entry, string Fault)> Unusable)
{
    /// <summary>Reads the journal of a folder with its packed part; a folder without any has an empty one.</summary>
    public static JournalSource Read(ArchiveFolder folder)
    {
        var entries = new List<JournalEntry>();
        var damaged = new List<JournalLine>();
        var unusable = new List<(JournalEntry, string)>();
        foreach (JournalEntry entry in WholeJournal.Entries(folder, damaged.Add))
        {
            if (EntryProof.Fault(entry) is { } fault) unusable.Add((entry, fault));
            else entries.Add(entry);
        }

        return new JournalSource(entries, damaged, unusable);
    }
}
