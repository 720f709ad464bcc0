using RigDaq.Archive.Storage;

namespace RigDaq.Archive.Journaling;

/// <summary>The journal with its packed part, as one.</summary>
internal static class WholeJournal
{
    /// <summary>All entries in order; of entries that were kept together come all or none. May be read beside whoever writes.</summary>
    /// <param name="folder">Where.</param>
    /// <param name="damaged">Told each damaged line; one that was cut off is none.</param>
    /// <param name="after">Who needs no entries up to this number may get them or not.</param>
    public static IEnumerable<JournalEntry> Entries(ArchiveFolder folder, Action<JournalLine> damaged, long after = 0)
    {
        // The journal first: what is moved out of it meanwhile is in its packed part by then.
        JournalLine[] lines = File.Exists(folder.Journal) ? [.. JournalLine.Read(folder.Journal, 0)] : [];
        return ArchiveJournal.WholeBatches(PackedJournal.Lines(folder.PackedJournal, after), damaged)
            .Concat(ArchiveJournal.WholeBatches(lines, damaged))
            // Packing that was cut off leaves an entry in both.
            .DistinctBy(entry => (entry.Number, entry.At, entry.Id));
    }
}
