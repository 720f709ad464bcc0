using RigDaq.Archive.Journaling;
using RigDaq.Archive.Storage;

namespace RigDaq.Archive.Recovery;

/// <summary>
/// Puts a joined journal in the place of the one that was found, and the database aside. Cut off at any moment, it is finished at the next
/// opening: the joined journal waits under a name of its own until it has its place.
/// </summary>
internal static class PendingRebuild
{
    /// <param name="folder">The folder; this process has its lock.</param>
    /// <param name="joined">The journal that holds everything; null where the one that is there does.</param>
    /// <param name="time">Stamps names.</param>
    /// <param name="sync">How it gets to the disk.</param>
    /// <returns>The names of what was set aside.</returns>
    public static IReadOnlyList<string> Run(ArchiveFolder folder, IEnumerable<JournalEntry>? joined, TimeProvider time, DiskSync sync)
    {
        if (joined is not null)
        {
            string draft = Waiting(folder) + ".new";
            using (FileStream file = OwnersFile.Open(draft, FileMode.Create))
            {
                foreach (JournalEntry entry in joined) file.Write(JournalLine.Of(entry));
                sync.File(file);
            }

            File.Move(draft, Waiting(folder), overwrite: true);
            sync.Folder(folder.Path);
        }

        return SetAside(folder, time, sync);
    }

    /// <summary>Finishes what was cut off.</summary>
    public static void Finish(ArchiveFolder folder, TimeProvider time, DiskSync sync)
    {
        if (File.Exists(Waiting(folder))) SetAside(folder, time, sync);
    }

    private static string Waiting(ArchiveFolder folder) => folder.Journal + ".rebuilt";

    private static List<string> SetAside(ArchiveFolder folder, TimeProvider time, DiskSync sync)
    {
        var names = new List<string>();
        foreach (string file in new[] { folder.Database, folder.DatabaseLog })
        {
            if (Opening.SetAside(file, time) is { } aside) names.Add(Path.GetFileName(aside));
        }

        if (File.Exists(Waiting(folder)))
        {
            if (File.Exists(folder.Journal))
            {
                string aside = ArchiveFolder.Aside(folder.Journal, time.GetUtcNow());
                File.Copy(folder.Journal, aside);
                sync.File(aside);
                names.Add(Path.GetFileName(aside));
            }

            // What is in there is in the joined one: it is out of the way before that has its place.
            if (Opening.SetAside(folder.PackedJournal, time) is { } packed) names.Add(Path.GetFileName(packed));
            sync.Folder(folder.Path);
            File.Move(Waiting(folder), folder.Journal, overwrite: true);
        }

        sync.Folder(folder.Path);
        return names;
    }
}
