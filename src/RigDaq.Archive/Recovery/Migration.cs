using Microsoft.Extensions.Logging;
using RigDaq.Archive.Records;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;

namespace RigDaq.Archive.Recovery;

/// <summary>
/// Opens a folder that an earlier version wrote. Records of before are read as they stand, for ever (the journal is never rewritten), so
/// that nothing is converted; what is kept from now on is written in the new form, which the earlier version does not know. So the files
/// that it would need are copied aside first.
/// </summary>
internal static class Migration
{
    /// <exception cref="ArchiveException">There is no room for the copies, or they cannot be made. Nothing was changed.</exception>
    /// <returns>The names of the copies; none where the folder is of this version.</returns>
    public static IReadOnlyList<string> Run(ArchiveFolder folder, Database database, CreatedMarker? marker, TimeProvider time,
        DiskSync sync, ILogger logger)
    {
        int kept = database.Read(Progress.Read).Schema;
        string[] copies = [];
        if (kept < CreatedMarker.CurrentSchema || marker?.Schema < CreatedMarker.CurrentSchema)
        {
            database.Checkpoint();
            copies = [.. new[] { folder.Database, folder.Journal, folder.Marker }.Where(File.Exists)
                .Select(file => CopyAside(folder, file, time, sync))];
            sync.Folder(folder.Path);
            database.Write(open => (Progress.Read(open) with { Schema = CreatedMarker.CurrentSchema }).Write(open));
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
