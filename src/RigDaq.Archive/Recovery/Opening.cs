using Microsoft.Extensions.Logging;
using RigDaq.Archive.Captures;
using RigDaq.Archive.Storage;

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

        bool hasJournal = File.Exists(folder.Journal);
        bool hasCaptures = Directory.Exists(folder.Captures) &&
            Directory.EnumerateFiles(folder.Captures, "*" + CaptureFormat.Extension).Any();
        string found = database.Exists ? $"is only {database.Length} bytes long" : "is missing";
        if (!hasJournal && (hasCaptures || marker is not null))
        {
            throw new ArchiveException(
                $"The database '{folder.Database}' {found}, and the journal that it could be made from is missing too, yet the folder " +
                "was in use. Restore the folder from a backup, or choose an empty data folder. Nothing was changed.");
        }

        SetAside(folder.Database, time);
        SetAside(folder.DatabaseLog, time);
        if (!hasJournal) return false;
        logger.LogWarning("The database '{Path}' {Found}. It is made anew from the journal and the captures.", folder.Database, found);
        return true;
    }

    /// <summary>Gives a file another name, so that nothing is deleted.</summary>
    public static void SetAside(string file, TimeProvider time)
    {
        if (File.Exists(file)) File.Move(file, ArchiveFolder.Aside(file, time.GetUtcNow()));
    }
}
