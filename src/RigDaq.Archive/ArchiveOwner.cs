using LiteDB;
using Microsoft.Extensions.Logging;
using RigDaq.Archive.Captures;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Records;
using RigDaq.Archive.Recovery;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;

namespace RigDaq.Archive;

/// <summary>
/// Owns everything in a data folder and lets one call in at a time. What is to be kept goes to the journal first and to the
/// database second, each on the disk before the next; what the database missed is taken from the journal.
/// </summary>
internal sealed class ArchiveOwner : IDisposable
{
    private readonly Lock _gate = new();
    private readonly FolderLock _lock;
    private readonly Database _database;
    private readonly ArchiveJournal _journal;
    private readonly ILogger _logger;
    private long _lastNumber;
    private bool _behind = true;
    private bool _disposed;

    /// <exception cref="ArchiveException">The folder cannot be used as it is.</exception>
    public ArchiveOwner(ArchiveFolder folder, TimeProvider time, ILogger logger, DiskSync sync)
    {
        Folder = folder;
        Time = time;
        Sync = sync;
        _logger = logger;
        Make(folder);
        _lock = FolderLock.Take(folder);
        Database? database = null;
        ArchiveJournal? journal = null;
        try
        {
            CreatedMarker? marker = CreatedMarker.Read(folder);
            bool rebuilds = Opening.SetAsideWhatIsNoDatabase(folder, marker, time, logger);
            database = new Database(folder, sync, logger);
            journal = new ArchiveJournal(folder, sync);
            (_database, _journal) = (database, journal);
            Captures = new CaptureJournal(folder, sync, logger, runId => Read(database => RunRows.Exists(database, runId)));
            SetAside = Migration.Run(folder, database, marker, time, sync, logger);
            lock (_gate) CatchUp(publish: !rebuilds);
            if (marker is null) new CreatedMarker(CreatedMarker.CurrentSchema, time.GetUtcNow()).Write(folder, sync);
        }
        catch
        {
            database?.Dispose();
            journal?.Dispose();
            _lock.Dispose();
            throw;
        }
    }

    public ArchiveFolder Folder { get; }

    /// <summary>What was copied aside because an earlier version wrote the folder; empty otherwise.</summary>
    public IReadOnlyList<string> SetAside { get; }

    public TimeProvider Time { get; }

    public DiskSync Sync { get; }

    public CaptureJournal Captures { get; }

    /// <summary>How many messages wait to be published.</summary>
    public int WaitingMessages { get; private set; }

    /// <summary>
    /// The number of the last entry of the journal. Read without waiting for whoever writes: what is read from the database afterwards holds
    /// that entry.
    /// </summary>
    public long LastNumber => Volatile.Read(ref _lastNumber);

    /// <summary>Asks the database; the answer must be detached from it.</summary>
    public T Read<T>(Func<ILiteDatabase, T> work)
    {
        lock (_gate)
        {
            ObjectDisposedException.ThrowIf(_disposed, this);
            if (_behind) CatchUp(publish: true);
            return _database.Read(work);
        }
    }

    /// <summary>Keeps what <paramref name="decide"/> makes of the present state; null changes nothing.</summary>
    /// <param name="decide">Looks at the database and gives the entry, or throws because it contradicts what is kept.</param>
    /// <param name="pieces">The packed trace of a run's first version.</param>
    /// <exception cref="IOException">It could not be kept.</exception>
    /// <exception cref="ArchiveConflictException">It contradicts what is kept.</exception>
    public void Commit(Func<ILiteDatabase, JournalEntry?> decide, IReadOnlyList<byte[]> pieces)
    {
        lock (_gate)
        {
            ObjectDisposedException.ThrowIf(_disposed, this);
            if (_behind) CatchUp(publish: true);
            if (_database.Read(decide) is not { } decided) return;
            JournalEntry entry = decided with { Number = ++_lastNumber };
            // A line whose flush failed may be in the file all the same: then it is kept, and the next call finds it.
            _behind = true;
            long length = _journal.Append(entry);
            Keep(entry, pieces, length, publish: true, durable: true);
            _behind = false;
        }
    }

    /// <summary>A message was published. Not flushed: after a power cut it is published twice, which its receivers expect.</summary>
    public void CompleteMessage(long number)
    {
        lock (_gate)
        {
            ObjectDisposedException.ThrowIf(_disposed, this);
            bool deleted = false;
            _database.Write(database => deleted = database.GetCollection(Collections.Outbox).Delete(number), durable: false);
            if (deleted) WaitingMessages--;
        }
    }

    /// <summary>Runs <paramref name="work"/> while the database file is whole and still and nothing is written.</summary>
    public void WhileStill(Action work)
    {
        lock (_gate)
        {
            ObjectDisposedException.ThrowIf(_disposed, this);
            _database.Checkpoint();
            work();
        }
    }

    /// <summary>Every entry of the journal that can be read.</summary>
    public IReadOnlyList<JournalEntry> JournalEntries(Action<int> damaged)
    {
        lock (_gate) return [.. _journal.Read(0, damaged)];
    }

    /// <summary>
    /// The entries of one record, in order. Read beside whoever writes: a line that is being written is told by its checksum and left out.
    /// </summary>
    public IReadOnlyList<JournalEntry> JournalEntriesOf(EntryKind kind, string id) => [.. _journal.Read(0, _ => { }).Where(entry => entry.Kind == kind && entry.Id == id)];

    public void Dispose()
    {
        lock (_gate)
        {
            if (_disposed) return;
            _disposed = true;
            _database.Dispose();
            _journal.Dispose();
            _lock.Dispose();
        }
    }

    private static void Make(ArchiveFolder folder)
    {
        try
        {
            Directory.CreateDirectory(folder.Path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new ArchiveException(ArchiveText.FolderNotMade(folder.Path, e.Message), e);
        }
    }

    private void CatchUp(bool publish)
    {
        Progress progress = _database.Read(Progress.Read);
        _lastNumber = Math.Max(_lastNumber, progress.JournalNumber);
        bool shortened = _journal.Length < progress.JournalLength;
        int done = 0;
        foreach (JournalEntry entry in _journal.Read(shortened ? 0 : progress.JournalLength, SayDamaged))
        {
            if (entry.Number <= progress.JournalNumber) continue;
            _lastNumber = Math.Max(_lastNumber, entry.Number);
            Keep(entry, TraceOf(entry), progress.JournalLength, publish, durable: false);
            done++;
        }

        if (done > 0) _logger.LogWarning("{Count} entries of the journal were not in the database and are now.", done);
        if (shortened) Rewrite();
        SetJournalLength();
        WaitingMessages = _database.Read(database => database.GetCollection(Collections.Outbox).Count());
        _behind = false;
    }

    private void Keep(JournalEntry entry, IReadOnlyList<byte[]> pieces, long length, bool publish, bool durable)
    {
        int dropped = 0;
        _database.Write(
            database =>
            {
                Progress progress = Progress.Read(database);
                Keeping.Apply(database, entry, pieces);
                long outboxNumber = progress.OutboxNumber;
                if (publish && entry.Messages.Count > 0)
                {
                    outboxNumber = OutboxRows.Add(database, entry.Messages, outboxNumber);
                    if (WaitingMessages + entry.Messages.Count > OutboxRows.Limit) dropped = OutboxRows.Trim(database, OutboxRows.Limit);
                }

                (progress with { JournalNumber = entry.Number, JournalLength = length, OutboxNumber = outboxNumber }).Write(database);
            },
            durable);
        if (publish) WaitingMessages += entry.Messages.Count - dropped;
        if (dropped > 0) _logger.LogWarning("{Count} of the oldest messages were given up: no broker has taken any for long.", dropped);
    }

    private List<byte[]> TraceOf(JournalEntry entry)
    {
        if (entry.Kind != EntryKind.Run) return [];
        CaptureContent? capture = Captures.Read(entry.Id);
        if (capture is null)
        {
            _logger.LogError("Run {Run} is in the journal, but its capture is missing: it is kept without its trace.", entry.Id);
            return [];
        }

        if (RunRows.ChecksumOf(capture.Samples) != entry.TraceChecksum)
        {
            _logger.LogError(
                "The capture of run {Run} is not what was stored: {Found} of {Stored} samples could be read.",
                entry.Id, capture.Samples.Count, entry.Samples);
        }

        return RunRows.Pack(capture.Samples);
    }

    // The journal was cut or lost: what the database holds is written to it again, so that it can be rebuilt once more.
    private void Rewrite()
    {
        _logger.LogError("The journal '{Path}' is shorter than it was. Everything in the database is written to it again.", Folder.Journal);
        foreach (JournalEntry entry in _database.Read(database => Keeping.Everything(database, Time.GetUtcNow())))
        {
            _journal.Append(entry with { Number = ++_lastNumber });
        }
    }

    private void SetJournalLength()
    {
        long length = _journal.Length;
        if (_database.Read(Progress.Read) is { } progress && progress.JournalLength == length && progress.JournalNumber == _lastNumber) return;
        _database.Write(database =>
            (Progress.Read(database) with { JournalNumber = _lastNumber, JournalLength = length }).Write(database));
    }

    private void SayDamaged(int line) =>
        _logger.LogError("Line {Line} of the part of the journal that was read is damaged and was left out.", line);
}
