using Microsoft.Extensions.Logging;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Photos;
using RigDaq.Archive.Records;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core;
using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive;

/// <summary>
/// Everything that is kept, in one data folder: studies, calibrations, runs with their revisions and raw traces, what waits
/// to be published, and the captures. Safe for calls from any thread; each waits for the one before it. What a call
/// returns is detached. What a call has stored survives a power cut.
/// </summary>
public sealed partial class RigArchive : IRunArchive, IStudyArchive, ICalibrationArchive, IOutbox, IDisposable
{
    /// <summary>No id is longer, so that every id fits an index and a file name.</summary>
    public const int LongestId = 100;

    private readonly ArchiveOwner _owner;

    /// <summary>Opens the folder, or makes it. A lost database is made anew from the journal and the captures, and said.</summary>
    /// <param name="folderPath">The data folder.</param>
    /// <param name="time">Stamps the journal.</param>
    /// <param name="logger">Hears what was found and put right.</param>
    /// <exception cref="ArchiveException">
    /// Another process has the folder, a newer version wrote it, or it is damaged; the message says what to do.
    /// </exception>
    public RigArchive(string folderPath, TimeProvider time, ILogger logger) : this(folderPath, time, logger, new DiskSync()) { }

    internal RigArchive(string folderPath, TimeProvider time, ILogger logger, DiskSync sync, bool evenDamaged = false)
    {
        _owner = new ArchiveOwner(new ArchiveFolder(folderPath), time, logger, sync, evenDamaged);
        Photos = new PhotoShelf(_owner.Folder.Path, sync);
    }

    /// <summary>
    /// The same over a database that cannot be opened, too, for who must go on without it (a rig can be stopped and shown all the same):
    /// every call then throws an <see cref="ArchiveException"/> with the words of <see cref="Trouble"/>.
    /// </summary>
    /// <inheritdoc cref="RigArchive(string, TimeProvider, ILogger)"/>
    public static RigArchive OpenEvenDamaged(string folderPath, TimeProvider time, ILogger logger)
        => new(folderPath, time, logger, new DiskSync(), evenDamaged: true);

    /// <summary>What is wrong with the database, in words with what to do; null while nothing is known of it. Does not wait for whoever
    /// writes.</summary>
    public string? Trouble => _owner.Trouble;

    /// <summary>That others of this machine can look into the folder or a file of it, in words with the command that ends it; null where
    /// they cannot.</summary>
    public string? OpenToOthers => _owner.Folder.IsOpenToOthers ? ArchiveText.FolderOpenToOthers(_owner.Folder.Path) : null;

    /// <summary>
    /// Where the samples of a pull go while it lasts. Its <see cref="ICaptureJournal.FindUnfinished"/> gives every pull whose
    /// run is not in the archive: those that were cut short, as interrupted, and those that ended but were not stored.
    /// </summary>
    public ICaptureJournal Captures => _owner.Captures;

    /// <summary>The names under which files of an earlier version were copied aside when the folder was opened; empty where this version
    /// wrote it.</summary>
    public IReadOnlyList<string> SetAside => _owner.SetAside;

    /// <summary>The data folder.</summary>
    public string Folder => _owner.Folder.Path;

    /// <summary>Photos of broken pieces.</summary>
    public PhotoShelf Photos { get; }

    /// <summary>The runs.</summary>
    public IRunArchive Runs => this;

    /// <summary>The studies.</summary>
    public IStudyArchive Studies => this;

    /// <summary>The calibrations.</summary>
    public ICalibrationArchive Calibrations => this;

    /// <summary>What waits to be published.</summary>
    public IOutbox Outbox => this;

    internal ArchiveOwner Owner => _owner;

    /// <inheritdoc/>
    public void Store(Run run, PullRecord pull, IReadOnlyList<OutboxMessage> messages)
    {
        string runId = run.Head.RunId;
        CheckRunId(runId);
        if (pull.Head.RunId != runId) throw new ArgumentException($"Run {runId} comes with the pull of run {pull.Head.RunId}.",
            nameof(pull));
        if (run.Revision != 0) throw new ArgumentException("A run's first version has revision 0; later ones go to Revise.", nameof(run));
        // Packed and captured before the lock is taken: other calls need not wait for that.
        TraceContent content = TraceContent.Of(pull.Trace);
        List<byte[]> pieces = content.Pack();
        uint checksum = content.Checksum32();
        _owner.Captures.Ensure(pull, checksum);
        JournalEntry entry = Entries.Run(run, pull, pull.Trace.Samples.Count, checksum, messages, _owner.Time.GetUtcNow());
        _owner.Commit(database => Unless(RunRows.Text(database, runId, 0), entry, ArchiveText.RunOtherContent(runId)), pieces);
    }

    /// <inheritdoc/>
    /// <exception cref="ArchiveConflictException">The run is not there, or this is not the revision after its latest.</exception>
    public void Revise(Run revision, IReadOnlyList<OutboxMessage> messages)
    {
        CheckRunId(revision.Head.RunId);
        JournalEntry entry = Entries.Revision(revision, messages, _owner.Time.GetUtcNow());
        _owner.Commit(database => InTurn(database, revision, entry), []);
    }

    /// <inheritdoc/>
    Run? IRunArchive.Find(string runId) => _owner.Read(database => RunRows.Find(database, runId));

    /// <inheritdoc/>
    public IReadOnlyList<Run> Revisions(string runId) => _owner.Read(database => RunRows.Revisions(database, runId));

    /// <inheritdoc/>
    public PullRecord? FindPull(string runId) => _owner.Read(database => RunRows.FindPull(database, runId));

    /// <inheritdoc/>
    public IReadOnlyList<Run> OfStudy(string studyId) => _owner.Read(database => RunRows.OfStudy(database, studyId));

    /// <inheritdoc/>
    public IReadOnlyList<Run> Latest(int count) => count <= 0 ? [] : _owner.Read(database => RunRows.Latest(database, count));

    /// <inheritdoc/>
    public void Save(Study study, string reason)
    {
        CheckId(study.Id, "study");
        JournalEntry entry = Entries.Study(study, reason, _owner.Time.GetUtcNow());
        RequirePlain(entry, ((IStudyArchive)this).Find(study.Id));
        Commit(entry);
    }

    /// <inheritdoc/>
    Study? IStudyArchive.Find(string studyId) => FindRecord<Study>(Collections.Studies, studyId);

    /// <inheritdoc/>
    public IReadOnlyList<Study> All() => _owner.Read<IReadOnlyList<Study>>(database =>
        [.. database.GetCollection(Collections.Studies).FindAll()
            .Select(document => Sealed.Read<Study>(document, Collections.Studies))
            .OrderByDescending(study => study.CreatedAt).ThenBy(study => study.Id, StringComparer.Ordinal)]);

    /// <inheritdoc/>
    public IReadOnlyList<StudyVersion> Versions(string studyId) =>
        [.. _owner.JournalEntriesOf(EntryKind.Study, studyId)
            .Select(entry => new StudyVersion(RecordText.Read<Study>(entry.Record), entry.Reason, entry.At))];

    /// <inheritdoc/>
    public void Save(CalibrationRecord calibration)
    {
        CheckId(calibration.Id, "calibration");
        Commit(Entries.Calibration(calibration, _owner.Time.GetUtcNow()));
    }

    /// <inheritdoc/>
    CalibrationRecord? ICalibrationArchive.Find(string calibrationId)
        => FindRecord<CalibrationRecord>(Collections.Calibrations, calibrationId);

    /// <inheritdoc/>
    public IReadOnlyList<CalibrationRecord> OfDevice(string deviceId) => _owner.Read<IReadOnlyList<CalibrationRecord>>(database =>
        [.. database.GetCollection(Collections.Calibrations).Find(Where.Is("device", deviceId))
            .Select(document => Sealed.Read<CalibrationRecord>(document, Collections.Calibrations))
            .OrderByDescending(calibration => calibration.AcceptedAt)
                .ThenByDescending(calibration => calibration.Id, StringComparer.Ordinal)]);

    /// <inheritdoc/>
    public IReadOnlyList<(long Number, OutboxMessage Message)> Pending(int count) =>
        count <= 0 ? [] : _owner.Read(database => OutboxRows.Oldest(database, count));

    /// <inheritdoc/>
    public void Complete(long number) => _owner.CompleteMessage(number);

    /// <inheritdoc/>
    public void Reach(long number, IReadOnlyCollection<string> addressees) => _owner.ReachMessage(number, addressees);

    /// <inheritdoc/>
    public IReadOnlyDictionary<long, IReadOnlyList<string>> Reached() => _owner.Read(OutboxRows.Reached);

    /// <inheritdoc/>
    public int Count => _owner.WaitingMessages;

    /// <summary>Closes the folder; it can be opened by another process then.</summary>
    public void Dispose() => _owner.Dispose();

    /// <summary>The entry of a revision that is the next of its run; null where that very revision is kept already.</summary>
    /// <param name="database">What is kept.</param>
    /// <param name="revision">The revision.</param>
    /// <param name="entry">Its entry.</param>
    /// <param name="before">The revision of the same run that is kept together with it, before it; null for none.</param>
    private static JournalEntry? InTurn(LiteDB.ILiteDatabase database, Run revision, JournalEntry entry, Run? before = null)
    {
        string runId = revision.Head.RunId;
        Run latest = before ?? RunRows.Find(database, runId) ?? throw new ArchiveConflictException(ArchiveText.RunNotThere(runId));
        if (latest.Revision == revision.Revision) return Unless(RunRows.Text(database, runId, revision.Revision), entry,
            ArchiveText.RevisionOtherContent(runId, revision.Revision));
        return latest.Revision + 1 == revision.Revision ? entry
            : throw new ArchiveConflictException(ArchiveText.RevisionOutOfTurn(runId, latest.Revision, revision.Revision));
    }

    private static JournalEntry? Unless(string? kept, JournalEntry entry, string refusal)
    {
        if (kept is null) return entry;
        return kept == entry.Record ? null : throw new ArchiveConflictException(refusal);
    }

    private static void CheckId(string id, string what)
    {
        if (string.IsNullOrWhiteSpace(id) || id.Length > LongestId) throw new RefusalException(ArchiveText.IdLength(what, LongestId));
    }

    private static void CheckRunId(string id)
    {
        if (!Guid.TryParse(id, out _)) throw new ArgumentException($"'{id}' is no run id (a UUID in text form).", nameof(id));
    }

    private static void RequirePlain(JournalEntry study, Study? kept)
    {
        PlainText.Require(study.Reason, ofSeveralLines: true);
        PlainRecord.Require(study.Record, kept is null ? null : RecordText.Of(kept));
    }

    private void Commit(JournalEntry entry) => _owner.Commit(_ => entry, []);

    private T? FindRecord<T>(string collection, string id) where T : class => _owner.Read(database =>
        database.GetCollection(collection).FindById(id) is { } document ? Sealed.Read<T>(document, collection) : null);
}
