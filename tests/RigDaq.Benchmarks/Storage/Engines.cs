namespace RigDaq.Benchmarks.Storage;

/// <summary>What is weighed, by name.</summary>
internal static class Engines
{
    public const string Kept = "LiteDB as kept", Bare = "LiteDB as it comes", Sqlite = "SQLite";

    public static IRunStore Open(string engine, string folder, bool toRead = false) => engine switch
    {
        Sqlite => new SqliteStore(folder, toRead),
        // Another process beside the one that has it open can only have it as it comes.
        Kept when !toRead => new LiteAsKept(folder),
        _ => new LiteAsItComes(folder, toRead),
    };
}
