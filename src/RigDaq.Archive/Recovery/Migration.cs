using Microsoft.Extensions.Logging;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Records;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;

namespace RigDaq.Archive.Recovery;

/// <summary>
/// Opens a folder that an earlier version wrote. Records of before are read as they stand, for ever, so that nothing is converted; what is
/// kept from now on is written in the new form, which the earlier version does not know. So the files that it would need are copied aside
/// first. What the database did not have yet is taken from the journal.
/// </summary>
internal static class Migration
{
    /// <summary>So many versions of studies go into one transaction.</summary>
    public const int VersionsAtOnce = 200;

    private static readonly TimeSpan SayEvery = TimeSpan.FromSeconds(2);

    /// <exception cref="ArchiveException">There is no room for the copies, or they cannot be made. Nothing was changed.</exception>
    /// <returns>The names of the copies; none where the folder is of this version.</returns>
    public static IReadOnlyList<string> Run(ArchiveFolder folder, Database database, CreatedMarker? marker, TimeProvider time,
        DiskSync sync, ILogger logger)
    {
        int kept = database.Read(JournalPosition.Read).Schema;
        string[] copies = [];
        if (kept < CreatedMarker.CurrentSchema || marker?.Schema < CreatedMarker.CurrentSchema)
        {
            database.Checkpoint();
            copies = [.. new[] { folder.Database, folder.Journal, folder.Marker }.Where(File.Exists)
                .Select(file => CopyAside(folder, file, time, sync))];
            sync.Folder(folder.Path);
            if (kept < Collections.VersionsSince) TakeVersions(folder, database, time, logger);
            database.Write(open => (JournalPosition.Read(open) with { Schema = CreatedMarker.CurrentSchema }).Write(open));
            database.Read(open =>
            {
                Collections.EnsureIndexes(open);
                return 0;
            });
            logger.LogWarning(
                "The data folder '{Folder}' was written by an earlier RigDaq (schema {Before}) and is of this one's now (schema {Now}). What it was is kept aside: {Copies}.",
                folder.Path, Math.Min(kept, marker?.Schema ?? kept), CreatedMarker.CurrentSchema,
                    string.Join(", ", copies.Select(Path.GetFileName)));
        }

        // Last: cut off before this, it is looked at again.
        if (marker is not null && marker.Schema < CreatedMarker.CurrentSchema) (marker with { Schema = CreatedMarker.CurrentSchema })
            .Write(folder, sync);
        return [.. copies.Select(copy => Path.GetFileName(copy))];
    }

    // Cut off anywhere it is done again: taken twice is taken once.
    private static void TakeVersions(ArchiveFolder folder, Database database, TimeProvider time, ILogger logger)
    {
        int taken = 0;
        long said = time.GetTimestamp();
        IEnumerable<JournalEntry> versions = JournalSource.Read(folder).Entries.Where(entry => entry.Kind == EntryKind.Study);
        foreach (JournalEntry[] some in versions.Chunk(VersionsAtOnce))
        {
            database.Write(open => Array.ForEach(some, version => VersionRows.Put(open, version)));
            taken += some.Length;
            if (time.GetElapsedTime(said) < SayEvery) continue;
            logger.LogWarning("The data folder is brought to this version's form: {Count} versions of studies by now.", taken);
            said = time.GetTimestamp();
        }

        // A study of which the journal has no version: the one that there is. One that is damaged is said when it is read.
        var source = new DatabaseSource(database.Read);
        HashSet<string> known = [.. source.Versions.Select(version => version.Id)];
        JournalEntry[] alone = [.. source.Latest.Values.Where(entry => entry.Kind == EntryKind.Study && !known.Contains(entry.Id))];
        if (alone.Length > 0) database.Write(open => Array.ForEach(alone, study => VersionRows.Put(open, study)));
    }

    private static string CopyAside(ArchiveFolder folder, string file, TimeProvider time, DiskSync sync)
    {
        string copy = ArchiveFolder.Aside(file, time.GetUtcNow()), draft = copy + ".new";
        try
        {
            // Opened for sharing: the database and the journal stay open while they are copied.
            using (var from = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete))
            using (FileStream to = OwnersFile.Open(draft, FileMode.Create))
            {
                from.CopyTo(to);
                sync.File(to);
            }

            File.Move(draft, copy);
            return copy;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            File.Delete(draft);
            throw new ArchiveException(ArchiveText.FolderNotSetAside(folder.Path, new FileInfo(file).Length, e.Message), e);
        }
    }
}
