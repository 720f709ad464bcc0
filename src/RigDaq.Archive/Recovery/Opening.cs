using Microsoft.Extensions.Logging;
using RigDaq.Archive.Captures;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Records;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;

namespace RigDaq.Archive.Recovery;

/// <summary>What is looked at before LiteDB is let near a folder: it would take a lost database for a new one.</summary>
internal static class Opening
{
    /// <returns>Whether the database is about to be made anew from the journal.</returns>
    /// <exception cref="ArchiveException">The database is lost and there is no journal to make it from.</exception>
    public static bool SetAsideWhatIsNoDatabase(ArchiveFolder folder, CreatedMarker? marker, TimeProvider time, ILogger logger)
    {
        var database = new FileInfo(folder.Database);
        if (database.Exists && database.Length >= Database.ShortestBytes) return false;

        bool hasJournal = File.Exists(folder.Journal) || File.Exists(folder.PackedJournal);
        bool hasCaptures = Directory.Exists(folder.Captures) &&
            Directory.EnumerateFiles(folder.Captures, "*" + CaptureFormat.Extension).Any();
        string found = database.Exists ? ArchiveText.DatabaseTooShort(database.Length) : ArchiveText.DatabaseMissing;
        if (!hasJournal && (hasCaptures || marker is not null)) throw new ArchiveException(ArchiveText.DatabaseLost(folder.Database,
            found));
        SetAside(folder.Database, time);
        SetAside(folder.DatabaseLog, time);
        if (!hasJournal) return false;
        logger.LogWarning("The database '{Path}' {Found}. It is made anew from the journal and the captures.", folder.Database, found);
        return true;
    }

    /// <summary>Gives a file another name, so that nothing is deleted.</summary>
    /// <returns>The new name; null where there was no such file.</returns>
    public static string? SetAside(string file, TimeProvider time)
    {
        if (!Path.Exists(file)) return null;
        string aside = ArchiveFolder.Aside(file, time.GetUtcNow());
        // Somebody's folder in the place of a file is in the way as much.
        if (Directory.Exists(file)) Directory.Move(file, aside);
        else File.Move(file, aside);
        return aside;
    }
}
