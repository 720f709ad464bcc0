using LiteDB;
using Microsoft.Extensions.Logging;
using RigDaq.Archive.Captures;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Records;
using RigDaq.Archive.Recovery;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Callers;
using RigDaq.Core.Runs;

namespace RigDaq.Archive;

/// <summary>
/// Owns everything in a data folder and lets one call in at a time. What is to be kept goes to the journal first and to the
/// database second, each on the disk before the next; what the database missed is taken from the journal.
/// </summary>
internal sealed partial class ArchiveOwner : IDisposable
{
    private readonly Lock _gate = new();
    private readonly FolderLock _lock;
    private readonly Database _database;
    private readonly ArchiveJournal _journal;
    private readonly PackedJournal _packed;
    private readonly JournalPacking _packing;
    private readonly long _packAtBytes;
    private readonly ILogger _logger;
    private long _lastNumber;
    private bool _behind = true;
    private bool _saidBehind;
    private bool _packs = true;
    private bool _disposed;

    private readonly string? _notOpened;

    /// <param name="folder">The folder.</param>
    /// <param name="time">Stamps the journal.</param>
    /// <param name="logger">Hears what was found.</param>
    /// <param name="sync">How it gets to the disk.</param>
    /// <param name="evenDamaged">Whether it comes up over a database that cannot be opened: every call then says so.</param>
    /// <param name="packAtBytes">A journal of this length is packed.</param>
    /// <exception cref="ArchiveException">The folder cannot be used as it is.</exception>
    public ArchiveOwner(ArchiveFolder folder, TimeProvider time, ILogger logger, DiskSync sync, bool evenDamaged, long packAtBytes)
    {
        _packAtBytes = packAtBytes;
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
            PendingRebuild.Finish(folder, time, sync);
            bool rebuilds = Opening.SetAsideWhatIsNoDatabase(folder, marker, time, logger);
            database = new Database(folder, sync, logger);
            journal = new ArchiveJournal(folder, sync);
            (_database, _journal, _packed) = (database, journal, new PackedJournal(folder, sync));
            _packing = new JournalPacking(folder, journal, _packed);
            Captures = new CaptureJournal(folder, sync, logger, runId => Read(database => RunRows.Exists(database, runId)));
            try
            {
                SetAside = Migration.Run(folder, database, marker, time, sync, logger);
                lock (_gate)
                {
                    CatchUp(publish: !rebuilds);
                    PackWhenLong();
                }

                Captures.Settle();
                if (marker is null) new CreatedMarker(CreatedMarker.CurrentSchema, time.GetUtcNow()).Write(folder, sync);
            }
            catch (IOException e) when (evenDamaged && database.Trouble is not null)
            {
                // Not tried again in this process: what was half done at opening would have to be done before anything else.
                _notOpened = e.Message;
            }
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
    public IReadOnlyList<string> SetAside { get; } = [];

    /// <summary>Why the database could not be opened at all; null where it is open.</summary>
    public string? NotOpened => _notOpened;

    /// <summary>What is wrong with the database, in words with what to do; null while nothing is known of it.</summary>
    public string? Trouble => _notOpened ?? _database.Trouble;

    public TimeProvider Time { get; }

    /// <summary>Who asks for what is kept now; null where nobody does.</summary>
    public Func<By?> Who { get; set; } = () => null;

    public DiskSync Sync { get; }

    public CaptureJournal Captures { get; }

    /// <summary>How many messages wait to be published.</summary>
    public int WaitingMessages { get; private set; }

    /// <summary>
    /// The number of the last entry of the journal. Read without waiting for whoever writes: what is read from the database afterwards
    /// holds that entry.
    /// </summary>
    public long LastNumber => Volatile.Read(ref _lastNumber);

    /// <summary>Asks the database; the answer must be detached from it.</summary>
    public T Read<T>(Func<ILiteDatabase, T> work)
    {
        lock (_gate)
        {
            RefuseUnlessOpen();
            if (_behind) TryCatchUp();
            return _database.Read(work);
        }
    }

    /// <summary>A record by its id, or null.</summary>
    public T? FindRecord<T>(string collection, string id) where T : class => Read(database =>
        ChecksummedDocument.Find(database, collection, id) is { } document ? ChecksummedDocument.Read<T>(document, collection) : null);

    /// <summary>A note by its kind and name, or null.</summary>
    public T? Note<T>(string kind, string name) where T : class => FindRecord<T>(Collections.Notes, NoteKinds.IdOf(kind, name));

    /// <summary>All notes of a kind whose names begin so, by name.</summary>
    public IReadOnlyList<T> Notes<T>(string kind, string prefix) => Read<IReadOnlyList<T>>(database =>
        [.. database.GetCollection(Collections.Notes).Find(Where.Begins("_id", NoteKinds.IdOf(kind, prefix)))
            .OrderBy(document => document["_id"].AsString, StringComparer.Ordinal)
            .Select(document => ChecksummedDocument.Read<T>(document, Collections.Notes))]);

    /// <summary>The notes of a kind whose names stand from one to before another, the last of them first.</summary>
    public IReadOnlyList<T> NotesBetween<T>(string kind, string from, string to, int most) => Read<IReadOnlyList<T>>(database =>
        [.. database.GetCollection(Collections.Notes).Query()
            .Where(Where.Between("_id", NoteKinds.IdOf(kind, from), NoteKinds.IdOf(kind, to))).OrderByDescending("_id").Limit(most)
            .ToEnumerable().Select(document => ChecksummedDocument.Read<T>(document, Collections.Notes))]);

    /// <summary>Keeps a note in the place of the one of its kind and name.</summary>
    public void SaveNote<T>(string kind, string name, T note)
    {
        if (string.IsNullOrWhiteSpace(name)) throw new ArgumentException($"A note of kind {kind} needs a name.", nameof(name));
        Commit(Entries.Note(kind, name, note, Time.GetUtcNow()) with { By = Who() });
    }

    /// <summary>A message was published. Not flushed: after a power cut it is published twice, which its receivers expect.</summary>
    public void CompleteMessage(long number)
    {
        lock (_gate)
        {
            RefuseUnlessOpen();
            bool deleted = false;
            _database.Write(database => deleted = database.GetCollection(Collections.Outbox).Delete(number), durable: false);
            if (deleted) WaitingMessages--;
        }
    }

    /// <summary>Some of those who are to have a message have it. Not flushed: after a power cut they get it twice, which receivers
    /// expect.</summary>
    public void ReachMessage(long number, IEnumerable<string> addressees)
    {
        lock (_gate)
        {
            RefuseUnlessOpen();
            _database.Write(database => OutboxRows.Reach(database, number, addressees), durable: false);
        }
    }

    /// <summary>Runs <paramref name="work"/> while the database file is whole and still and nothing is written.</summary>
    public void WhileStill(Action work)
    {
        lock (_gate)
        {
            RefuseUnlessOpen();
            _database.Checkpoint();
            work();
        }
    }

    /// <summary>Messages that waited in a database that was set aside wait in this one.</summary>
    public void Wait(IReadOnlyList<OutboxMessage> messages)
    {
        if (messages.Count == 0) return;
        lock (_gate)
        {
            RefuseUnlessOpen();
            _database.Write(database =>
            {
                JournalPosition position = JournalPosition.Read(database);
                (position with { OutboxNumber = OutboxRows.Add(database, messages, position.OutboxNumber) }).Write(database);
            });
            WaitingMessages += messages.Count;
        }
    }

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

    private void RefuseUnlessOpen()
    {
        ObjectDisposedException.ThrowIf(_disposed, this);
        if (_notOpened is { } trouble) throw new ArchiveException(trouble);
    }

    // What is on the disk can be read while nothing can be written: only what was never acknowledged is missing from it.
    private void TryCatchUp()
    {
        try
        {
            CatchUp(publish: true);
            _saidBehind = false;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JournalFailedException)
        {
            // Once: pages ask many times a second.
            if (!_saidBehind) _logger.LogWarning(e, "The database could not be brought up to the journal; what is in it is shown.");
            _saidBehind = true;
        }
    }

    private static void Make(ArchiveFolder folder)
    {
        try
        {
            folder.Make();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new ArchiveException(ArchiveText.FolderNotMade(folder.Path, e.Message), e);
        }
    }
}
