using RigDaq.Archive.Journaling;
using RigDaq.Archive.Photos;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Recovery;

/// <summary>Looks at a folder that nobody has open, and changes nothing in it: the database is read from a copy.</summary>
internal static class FolderLook
{
    public static FolderReport At(ArchiveFolder folder, DateTimeOffset now)
    {
        using DatabaseCopy copy = DatabaseCopy.Of(folder);
        JournalSource journal = JournalSource.Read(folder);
        var join = new Join(folder, journal, copy.Source, now);
        join.LookAtTraces();
        string[] missing = folder.HasJournal || copy.Source is { Latest.Count: 0, Revisions.Count: 0 } ? []
            : [ArchiveText.JournalNotThere(folder.Journal)];
        return Report(folder, join, [.. missing, .. copy.Faults]);
    }

    public static FolderReport Report(ArchiveFolder folder, Join join, IEnumerable<string> further)
    {
        JournalEntry[] entries = [.. join.Entries()];
        ILookup<EntryKind, JournalEntry> kinds = entries.ToLookup(entry => entry.Kind);
        var kept = new PhotoStore(folder.Path);
        IEnumerable<string> photos = NamedPhoto.Of(
            kinds[EntryKind.Run].Concat(kinds[EntryKind.Revision]).Select(entry => RecordText.Read<Run>(entry.Record)),
            kinds[EntryKind.Study].GroupBy(entry => entry.Id).Select(versions => RecordText.Read<Study>(versions.Last().Record)))
                .Select(photo => photo.Fault(kept)).OfType<string>();
        return new FolderReport(
            Count(EntryKind.Study), Count(EntryKind.Calibration), kinds[EntryKind.Run].Concat(kinds[EntryKind.Revision])
                .Select(entry => entry.Id).Distinct().Count(),
            [.. further, .. join.Findings, .. photos])
        {
            Notes = folder.IsOpenToOthers ? [ArchiveText.FolderOpenToOthers(folder.Path)] : [],
        };

        int Count(EntryKind kind) => kinds[kind].Select(entry => entry.Id).Distinct().Count();
    }
}
