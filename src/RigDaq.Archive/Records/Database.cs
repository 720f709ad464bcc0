using System.Globalization;
using LiteDB;
using Microsoft.Extensions.Logging;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;

namespace RigDaq.Archive.Records;

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
    private volatile string? _notOpened;
    private volatile string? _damage;

    // What file and log held at opening may be in memory only. It goes to the disk with the next write: a disk that takes nothing any
    // more still gives back what is on it.
    private bool _owesFlush;

    public Database(ArchiveFolder folder, DiskSync sync, ILogger logger)
    {
        _folder = folder;
        _sync = sync;
        _logger = logger;
    }

    /// <summary>
    /// What is wrong with the file, in words with what to do; null while nothing is known of it. Damage that was met stays known until the
    /// file is opened by another process: the next reading may well miss it.
    /// </summary>
    public string? Trouble => _notOpened ?? _damage;

    /// <summary>Runs <paramref name="work"/>; what it returns must be detached from the database.</summary>
    /// <exception cref="IOException">The database failed; the next call opens it again.</exception>
    public T Read<T>(Func<ILiteDatabase, T> work) => Guarded(work);

    /// <summary>Runs <paramref name="work"/> in one transaction; on the disk when this returns, unless not
    /// <paramref name="durable"/>.</summary>
    /// <exception cref="IOException">It could not be kept; nothing of it is kept.</exception>
    public void Write(Action<ILiteDatabase> work, bool durable = true) => Guarded(database =>
    {
        if (_owesFlush) FlushAll(database);
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
        if (_owesFlush) FlushAll(database);
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
        catch (Exception e)
            when (e is ArchiveConflictException or ArchiveException or EntryNotApplicableException or JournalFailedException)
        {
            // The caller's mistake, a damaged record, or the journal's fault: the file as such can be used.
            if (e is ArchiveException) _damage ??= e.Message;
            TakeBack(database);
            throw;
        }
        catch (Exception e)
        {
            // Whatever it was, this instance is not to be trusted any more.
            Close();
            if (IsOfTheDisk(e)) throw new IOException(ArchiveText.DatabaseFailed(_folder.Database, e.Message), e);
            string damage = ArchiveText.DatabaseDamaged(_folder.Path, _folder.Database, e.Message);
            _damage ??= damage;
            throw new IOException(damage, e);
        }
    }

    // A full or failing disk is no damage: it is said where it is met, and may be well again at the next call.
    private static bool IsOfTheDisk(Exception fault) => fault is IOException or UnauthorizedAccessException
        || (fault.InnerException is { } inner && IsOfTheDisk(inner));

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
            // The library would make it as the umask says; it takes an empty file for a new database.
            bool isNew = !File.Exists(_folder.Database);
            if (isNew) OwnersFile.Open(_folder.Database, FileMode.CreateNew).Dispose();
            database = new LiteDatabase(new ConnectionString
            {
                Filename = _folder.Database,
                Connection = ConnectionType.Direct,
                // Byte for byte: ids that differ in case are different ids.
                Collation = new Collation(CultureInfo.InvariantCulture.LCID, CompareOptions.Ordinal),
            });
            CreatedMarker.RefuseNewer(_folder, JournalPosition.Read(database).Schema);
            // Only we checkpoint, after the log is on the disk.
            if (database.CheckpointSize != 0) database.CheckpointSize = 0;
            Collections.EnsureIndexes(database);
            _owesFlush = true;
            if (isNew) FlushAll(database);
            _notOpened = null;
            return database;
        }
        catch (Exception e)
        {
            if (database is not null) LeftTransactions.KeepFromFinalizing(database);
            database?.Dispose();
            // Written by a newer version: that is no trouble of the file.
            if (e is ArchiveException) throw;
            string trouble = e is UnauthorizedAccessException
                ? ArchiveText.DatabaseNotAllowed(_folder.Database)
                : ArchiveText.DatabaseNotOpened(_folder.Path, _folder.Database, e.Message);
            _notOpened = trouble;
            throw new ArchiveException(trouble, e);
        }
    }

    /// <summary>What was found at opening, and a new file with its name; later the file changes only in a checkpoint.</summary>
    private void FlushAll(ILiteDatabase database)
    {
        FlushLog(database);
        if (!OperatingSystem.IsWindows()) _sync.File(_folder.Database);
        _sync.Folder(_folder.Path);
        _owesFlush = false;
    }

    private void FlushLog(ILiteDatabase database)
    {
        // LiteDB lets nobody else write its files on Windows, and a flush needs the right to write. There the log goes into
        // the database at once, which LiteDB flushes itself.
        if (OperatingSystem.IsWindows())
        {
            database.Checkpoint();
            return;
        }

        OwnersFile.Close(_folder.DatabaseLog);
        if (File.Exists(_folder.DatabaseLog)) _sync.File(_folder.DatabaseLog);
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
            if (_open is not null) LeftTransactions.KeepFromFinalizing(_open);
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
