namespace RigDaq.Archive.Storage;

/// <summary>The names of everything in a data folder, in one place.</summary>
internal sealed class ArchiveFolder
{
    public ArchiveFolder(string path) => Path = System.IO.Path.GetFullPath(path);

    public string Path { get; }

    public string Database => In("runs.db");

    /// <summary>LiteDB's write-ahead log; the library derives this name from the database's.</summary>
    public string DatabaseLog => In("runs-log.db");

    public string Journal => In("journal.jsonl");

    /// <summary>The earlier part of the journal, packed.</summary>
    public string PackedJournal => In("journal.packed.jsonl");

    /// <summary>Whether there is anything of a journal.</summary>
    public bool HasJournal => new[] { Journal, PackedJournal }.Any(file => File.Exists(file) && new FileInfo(file).Length > 0);

    public string Marker => In("archive.json");

    public string Lock => In("archive.lock");

    public string Captures => In("captures");

    /// <summary>A name that is free, for something that is set aside rather than deleted.</summary>
    public static string Aside(string file, DateTimeOffset now)
    {
        string stamp = now.UtcDateTime.ToString("yyyyMMdd'T'HHmmss", System.Globalization.CultureInfo.InvariantCulture);
        string name = $"{file}.aside-{stamp}";
        for (int i = 2; System.IO.Path.Exists(name); i++) name = $"{file}.aside-{stamp}-{i}";
        return name;
    }

    /// <summary>Makes the folder where it is not there; a new one is for its owner alone, so that nobody else reads what is in
    /// it.</summary>
    public void Make() => OwnersFile.MakeFolder(Path);

    /// <summary>Whether others of this machine can look into it, or could into a file of it if they could.</summary>
    public bool IsOpenToOthers => OwnersFile.IsOpenToOthers(Path) || Directory.EnumerateFileSystemEntries(Path, "*", Everything)
        .Any(OwnersFile.IsOpenToOthers);

    // What cannot be looked at is no reason not to start.
    private static readonly EnumerationOptions Everything = new()
    { RecurseSubdirectories = true, MaxRecursionDepth = 1, IgnoreInaccessible = true, AttributesToSkip = FileAttributes.ReparsePoint };

    private string In(string name) => System.IO.Path.Combine(Path, name);
}
