using LiteDB;
using RigDaq.Archive.Records;
using RigDaq.Archive.Storage;

namespace RigDaq.Benchmarks.Storage;

/// <summary>LiteDB as it comes: nothing flushed by us, nobody waits for anybody.</summary>
internal sealed class LiteAsItComes : LiteRows
{
    private readonly LiteDatabase _database;

    public LiteAsItComes(string folder, bool toRead = false)
    {
        _database = new LiteDatabase(new ConnectionString { Filename = new ArchiveFolder(folder).Database, ReadOnly = toRead });
        if (!toRead) Collections.EnsureIndexes(_database);
    }

    public override void Backup(string folder) => throw new NotSupportedException("The library has none while it is open.");

    public override void Dispose() => _database.Dispose();

    protected override T Read<T>(Func<ILiteDatabase, T> work) => work(_database);

    protected override void Write(Action<ILiteDatabase> work)
    {
        _database.BeginTrans();
        work(_database);
        _database.Commit();
    }
}
