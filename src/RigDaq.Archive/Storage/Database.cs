using System.Globalization;
using LiteDB;
using Microsoft.Extensions.Logging;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Text;

namespace RigDaq.Archive.Storage;

/// <summary>
/// The one owner of the LiteDB file. LiteDB is not safe for calls at the same time, does not flush its log at a commit, and
/// is dead for good after a failed write: so every call comes here one at a time (the caller holds the lock), each commit
/// is followed by a flush of the log, and after a failure the file is opened afresh.
/// </summary>
internal sealed class Database : IDisposable
{
    /// <summary>A file below one page is no database.</summary>
    public const long ShortestBytes = 8192;

    /// <summary>A log of this length is moved into the database.</summary>
    public const long CheckpointBytes = 16L * 1024 * 1024;

    private readonly ArchiveFolder _folder;
    private readonly DiskSync _sync;
    private readonly ILogger _logger;
    private LiteDatabase? _open;

    public Database(ArchiveFolder folder, DiskSync sync, ILogger logger)
    {
        _folder = folder;
        _sync = sync;
        _logger = logger;
    }

    /// <summary>Runs <paramref name="work"/>; what it returns must be detached from the database.</summary>
    /// <exception cref="IOException">The database failed; the next call opens it again.</exception>
    public T Read<T>(Func<ILiteDatabase, T> work) => Guarded(work);

    /// <summary>Runs <paramref name="work"/> in one transaction; on the disk when this returns, unless not <paramref name="durable"/>.</summary>
    /// <exception cref="IOException">It could not be kept; nothing of it is kept.</exception>
    public void Write(Action<ILiteDatabase> work, bool durable = true) => Guarded(database =>
    {
        if (!database.BeginTrans()) throw new InvalidOperationException("A transaction is open already.");
        work(database);
        if (!database.Commit()) throw new IOException(ArchiveText.DatabaseNotCommitted);
        if (durable) FlushLog(database);
        CheckpointWhenLong(database);
        return 0;
    });

    /// <summary>Moves the log into the database file, so that the file alone is everything.</summary>
    public void Checkpoint() => Guarded(database =>
    {
        Checkpoint(database);
        return 0;
    });

    /// <summary>Closes the file, for a copy of it or for good.</summary>
    public void Dispose()
    {
        if (_open is null) return;
        try
        {
            Checkpoint(_open);
        }
        catch (Exception e)
        {
            // Nothing is lost: the log is on the disk and is read at the next start.
            _logger.LogWarning(e, "The database's log could not be moved into it at closing; that is done at the next start.");
        }

        Close();
    }

    private T Guarded<T>(Func<ILiteDatabase, T> work)
    {
        LiteDatabase database = _open ??= Open();
        try
        {
            return work(database);
        }
        catch (Exception e) when (e is ArchiveConflictException or ArchiveException or EntryNotApplicableException or JournalFailedException)
        {
            // The caller's mistake, a damaged record, or the journal's fault: the database itself is well.
            TakeBack(database);
            throw;
        }
        catch (Exception e)
        {
            // Whatever it was, this instance is not to be trusted any more.
            Close();
            throw new IOException(ArchiveText.DatabaseFailed(_folder.Database, e.Message), e);
        }
    }

    private void TakeBack(LiteDatabase database)
    {
        try
        {
            database.Rollback();
        }
        catch (Exception e)
        {
            _logger.LogDebug(e, "What was begun could not be taken back; the database is opened again at the next call.");
            Close();
        }
    }

    private LiteDatabase Open()
    {
        LiteDatabase? database = null;
        try
        {
            database = new LiteDatabase(new ConnectionString
            {
                Filename = _folder.Database,
                Connection = ConnectionType.Direct,
                // Byte for byte: ids that differ in case are different ids.
                Collation = new Collation(CultureInfo.InvariantCulture.LCID, CompareOptions.Ordinal),
            });
            CreatedMarker.RefuseNewer(_folder, Records.Progress.Read(database).Schema);
            // Only we checkpoint, after the log is on the disk.
            if (database.CheckpointSize != 0) database.CheckpointSize = 0;
            Records.Collections.EnsureIndexes(database);
            FlushLog(database);
            // A new file and its name; later the file changes only in a checkpoint.
            if (!OperatingSystem.IsWindows()) _sync.File(_folder.Database);
            _sync.Folder(_folder.Path);
            return database;
        }
        catch (Exception e)
        {
            database?.Dispose();
            if (e is ArchiveException) throw;
            throw new ArchiveException(ArchiveText.DatabaseNotOpened(_folder.Database, e.Message), e);
        }
    }

    private void FlushLog(ILiteDatabase database)
    {
        // LiteDB lets nobody else write its files on Windows, and a flush needs the right to write. There the log goes into
        // the database at once, which LiteDB flushes itself.
        if (OperatingSystem.IsWindows()) database.Checkpoint();
        else if (File.Exists(_folder.DatabaseLog)) _sync.File(_folder.DatabaseLog);
    }

    private void CheckpointWhenLong(ILiteDatabase database)
    {
        var log = new FileInfo(_folder.DatabaseLog);
        if (log.Exists && log.Length >= CheckpointBytes) Checkpoint(database);
    }

    private void Checkpoint(ILiteDatabase database)
    {
        FlushLog(database);
        database.Checkpoint();
        if (!OperatingSystem.IsWindows()) _sync.File(_folder.Database);
    }

    private void Close()
    {
        try
        {
            _open?.Dispose();
        }
        catch (Exception e)
        {
            // After a full disk even closing fails; the file handles are gone all the same.
            _logger.LogDebug(e, "Closing the failed database failed too.");
        }

        _open = null;
    }
}
