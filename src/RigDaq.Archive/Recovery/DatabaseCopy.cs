using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Records;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;

namespace RigDaq.Archive.Recovery;

/// <summary>A copy of a folder's database, to be read whatever reading does to it.</summary>
internal sealed class DatabaseCopy : IDisposable
{
    private readonly string _copy = Directory.CreateTempSubdirectory("rigdaq-database-").FullName;
    private readonly List<string> _faults = [];
    private readonly Database? _database;

    private DatabaseCopy(ArchiveFolder folder)
    {
        if (!File.Exists(folder.Database) || new FileInfo(folder.Database).Length < Database.ShortestBytes)
        {
            if (folder.HasJournal) _faults.Add(ArchiveText.DatabaseNotThere(folder.Database));
            return;
        }

        try
        {
            var copied = new ArchiveFolder(_copy);
            File.Copy(folder.Database, copied.Database);
            if (File.Exists(folder.DatabaseLog)) File.Copy(folder.DatabaseLog, copied.DatabaseLog);
            _database = new Database(copied, new DiskSync(), NullLogger.Instance);
            _database.Read(_ => 0);
            Source = new DatabaseSource(_database.Read, fault => fault.Replace(copied.Database, folder.Database, StringComparison.Ordinal));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            Source = null;
            _faults.Add(ArchiveText.DatabaseNotRead(folder.Database, e.InnerException?.Message ?? e.Message));
        }
    }

    public static DatabaseCopy Of(ArchiveFolder folder) => new(folder);

    /// <summary>What it holds; null where there is none or it cannot be opened.</summary>
    public DatabaseSource? Source { get; }

    /// <summary>Why there is nothing to be read, in words.</summary>
    public IReadOnlyList<string> Faults => _faults;

    public void Dispose()
    {
        _database?.Dispose();
        Directory.Delete(_copy, recursive: true);
    }
}
