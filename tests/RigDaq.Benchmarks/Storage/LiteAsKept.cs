using LiteDB;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Records;
using RigDaq.Archive.Storage;

namespace RigDaq.Benchmarks.Storage;

/// <summary>LiteDB as RigDaq keeps it: its own class round it, one call at a time, each commit flushed.</summary>
internal sealed class LiteAsKept : LiteRows
{
    private readonly Lock _gate = new();
    private readonly ArchiveFolder _folder;
    private readonly Database _database;

    public LiteAsKept(string folder)
    {
        _folder = new ArchiveFolder(folder);
        _database = new Database(_folder, new DiskSync(), NullLogger.Instance);
    }

    public override void Backup(string folder)
    {
        lock (_gate)
        {
            _database.Checkpoint();
            using var from = new FileStream(_folder.Database, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
            using FileStream to = File.Create(new ArchiveFolder(folder).Database);
            from.CopyTo(to);
            to.Flush(flushToDisk: true);
        }
    }

    public override void Dispose() => _database.Dispose();

    protected override T Read<T>(Func<ILiteDatabase, T> work)
    {
        lock (_gate) return _database.Read(work);
    }

    protected override void Write(Action<ILiteDatabase> work)
    {
        lock (_gate) _database.Write(work);
    }
}
