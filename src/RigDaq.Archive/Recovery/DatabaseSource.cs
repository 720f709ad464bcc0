using LiteDB;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Records;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Runs;

namespace RigDaq.Archive.Recovery;

/// <summary>What a database holds, each record read for itself: one that is damaged costs itself and is said.</summary>
internal sealed class DatabaseSource
{
    private readonly Func<Func<ILiteDatabase, object?>, object?> _read;
    private readonly List<string> _faults = [];

    private readonly Func<string, string> _words;

    /// <param name="read">Asks the database; throws <see cref="IOException"/> where it fails.</param>
    /// <param name="words">Makes of a fault's words what a person can use.</param>
    public DatabaseSource(Func<Func<ILiteDatabase, object?>, object?> read, Func<string, string>? words = null)
    {
        _read = read;
        _words = words ?? (fault => fault);
        JournalPosition? progress = Try(JournalPosition.Read, out JournalPosition? known) ? known : null;
        JournalNumber = progress?.JournalNumber ?? long.MaxValue;
        KnowsVersions = progress?.Schema >= Collections.VersionsSince;
        foreach ((string collection, EntryKind kind) in new[]
            { (Collections.Calibrations, EntryKind.Calibration), (Collections.Studies, EntryKind.Study),
            (Collections.Notes, EntryKind.Note) })
        {
            foreach (BsonValue id in Ids(collection))
            {
                if (Document(collection, id, document => RecordWriter.EntryOf(kind, document, collection))
                    is { } entry) Latest[(kind, entry.Id)] = entry;
            }
        }

        foreach (BsonValue id in Ids(Collections.Versions))
        {
            if (Document(Collections.Versions, id, VersionRows.EntryOf) is { } version) Versions.Add(version);
        }

        Versions.Sort((one, other) => one.Number.CompareTo(other.Number));
        foreach (BsonValue id in Ids(Collections.Revisions))
        {
            if (Document(Collections.Revisions, id,
                document
                => Tuple.Create(document["run"].AsString, document["revision"].AsInt32,
                    ChecksummedDocument.ReadText(document, Collections.Revisions)))
                is { } revision)
                Revisions[(revision.Item1, revision.Item2)] = revision.Item3;
        }

        foreach (BsonValue id in Ids(Collections.Runs)) Document(Collections.Runs, id,
            document => ChecksummedDocument.ReadText(document, Collections.Runs));
        foreach (BsonValue id in Ids(Collections.Pulls))
        {
            if (Document(Collections.Pulls, id, document => ChecksummedDocument.ReadText(document, Collections.Pulls)) is { } pull)
                Pulls[id.AsString] = pull;
        }

        int faults = _faults.Count;
        foreach (BsonValue id in Ids(Collections.Outbox))
        {
            if (Document(Collections.Outbox, id, OutboxRows.Message) is { } message) Waiting.Add(message);
        }

        WaitingIsKnown = _faults.Count == faults;
    }

    /// <summary>The last entry of the journal that it holds; greater than any where that cannot be read.</summary>
    public long JournalNumber { get; }

    /// <summary>Studies, calibrations and notes as they are now.</summary>
    public Dictionary<(EntryKind Kind, string Id), JournalEntry> Latest { get; } = [];

    /// <summary>Whether it is of a schema that has every version of a study.</summary>
    public bool KnowsVersions { get; }

    /// <summary>Every version of every study, by the number of the entry that kept it.</summary>
    public List<JournalEntry> Versions { get; } = [];

    public Dictionary<(string Run, int Revision), string> Revisions { get; } = [];

    /// <summary>Pulls without samples, by run.</summary>
    public Dictionary<string, string> Pulls { get; } = [];

    public List<OutboxMessage> Waiting { get; } = [];

    /// <summary>Whether all that waits to be published could be read: only the database knows it.</summary>
    public bool WaitingIsKnown { get; }

    /// <summary>What could not be read, in words.</summary>
    public IReadOnlyList<string> Faults => _faults;

    /// <summary>A run's raw values; null where they cannot be read or none are kept.</summary>
    public TraceContent? Content(string runId) =>
        Try(database => RunRows.Content(database, runId), out TraceContent? content) && content is { Samples.Count: > 0 } ? content : null;

    private List<BsonValue> Ids(string collection) =>
        Try(database => database.GetCollection(collection).Query().Select("$._id").ToList().ConvertAll(document => document["_id"]),
            out List<BsonValue>? ids, collection) && ids is not null ? ids : [];

    private T? Document<T>(string collection, BsonValue id, Func<BsonDocument, T> read)
    {
        Try(database => database.GetCollection(collection).FindById(id) is { } document ? read(document) : default, out T? value);
        return value;
    }

    private bool Try<T>(Func<ILiteDatabase, T?> work, out T? value, string? collection = null)
    {
        try
        {
            value = (T?)_read(database => work(database));
            return true;
        }
        catch (IOException e)
        {
            string fault = _words(collection is null ? e.Message : ArchiveText.CollectionNotRead(collection, e.Message));
            if (!_faults.Contains(fault)) _faults.Add(fault);
            value = default;
            return false;
        }
    }
}
