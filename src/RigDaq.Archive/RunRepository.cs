using RigDaq.Archive.Faults;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Records;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.Archive;

/// <summary>The runs with their revisions and raw traces.</summary>
public sealed class RunRepository
{
    private readonly ArchiveOwner _owner;

    internal RunRepository(ArchiveOwner owner) => _owner = owner;

    /// <summary>
    /// Keeps a run with its raw trace and what waits to be published, all or nothing; it survives a power cut when this
    /// returns. Storing the same run id again with the same content changes nothing.
    /// </summary>
    /// <exception cref="IOException">It could not be kept.</exception>
    /// <exception cref="ArchiveConflictException">Another run of that id is kept.</exception>
    public void Store(Run run, PullRecord pull, IReadOnlyList<OutboxMessage> messages)
    {
        string runId = run.Head.RunId;
        CheckId(runId);
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
        _owner.Captures.Pack(runId, checksum);
    }

    /// <summary>Adds a revision of a run; the earlier ones stay.</summary>
    /// <exception cref="IOException">It could not be kept.</exception>
    /// <exception cref="ArchiveConflictException">The run is not there, or this is not the revision after its latest.</exception>
    public void Revise(Run revision, IReadOnlyList<OutboxMessage> messages)
    {
        CheckId(revision.Head.RunId);
        // What a revision is made of was somebody else's.
        Run made = revision with { By = _owner.Who() };
        JournalEntry entry = Entries.Revision(made, messages, _owner.Time.GetUtcNow()) with { By = made.By };
        _owner.Commit(database => InTurn(database, made, entry), []);
    }

    /// <summary>The latest revision of a run, or null.</summary>
    public Run? Find(string runId) => _owner.Read(database => RunRows.Find(database, runId));

    /// <summary>All revisions of a run, the first first.</summary>
    public IReadOnlyList<Run> Revisions(string runId) => _owner.Read(database => RunRows.Revisions(database, runId));

    /// <summary>The raw pull of a run, or null.</summary>
    public PullRecord? FindPull(string runId) => _owner.Read(database => RunRows.FindPull(database, runId));

    /// <summary>The latest revisions of a study's runs, in the order they were pulled.</summary>
    public IReadOnlyList<Run> OfStudy(string studyId) => _owner.Read(database => RunRows.OfStudy(database, studyId));

    /// <summary>The newest runs, newest first.</summary>
    public IReadOnlyList<Run> Latest(int count) => count <= 0 ? [] : _owner.Read(database => RunRows.Latest(database, count));

    /// <summary>The entry of a revision that is the next of its run; null where that very revision is kept already.</summary>
    /// <param name="database">What is kept.</param>
    /// <param name="revision">The revision.</param>
    /// <param name="entry">Its entry.</param>
    /// <param name="before">The revision of the same run that is kept together with it, before it; null for none.</param>
    internal static JournalEntry? InTurn(LiteDB.ILiteDatabase database, Run revision, JournalEntry entry, Run? before = null)
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

    private static void CheckId(string id)
    {
        if (!Guid.TryParse(id, out _)) throw new ArgumentException($"'{id}' is no run id (a UUID in text form).", nameof(id));
    }
}
