using RigDaq.Archive.Faults;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Records;
using RigDaq.Archive.Storage;
using RigDaq.Core.Callers;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive;

/// <summary>The studies with every version; which one is active and which came from elsewhere are notes of the journal.</summary>
public sealed class StudyRepository
{
    private const string ActiveStudy = "study";
    private readonly ArchiveOwner _owner;

    internal StudyRepository(ArchiveOwner owner) => _owner = owner;

    /// <summary>
    /// Whoever corrects a study or one of its runs by what is kept of them holds this meanwhile, so that no correction is made of what
    /// another has changed since.
    /// </summary>
    public Lock Correcting { get; } = new();

    /// <summary>The id of the study that a person chose to work on; null where nobody chose one.</summary>
    public string? Chosen => _owner.Note<WorkChoice>(NoteKinds.Work, ActiveStudy)?.StudyId;

    /// <summary>Studies that came from elsewhere, by their ids; what is not in here was made here, or imported before this was
    /// noted.</summary>
    public IReadOnlyDictionary<string, StudyOrigin> Origins
        => _owner.Notes<StudyOrigin>(NoteKinds.Origin, "").ToDictionary(origin => origin.StudyId, StringComparer.Ordinal);

    /// <summary>
    /// The study that a person chose; without a choice the newest that was made here. One that came from elsewhere is active only where a
    /// person says so: its specimens lie on another bench.
    /// </summary>
    /// <returns>Null where none was chosen and none was made here.</returns>
    public Study? Active()
    {
        if (Chosen is { } chosen && Find(chosen) is { } study) return study;
        IReadOnlyDictionary<string, StudyOrigin> imported = Origins;
        return All().FirstOrDefault(made => !imported.ContainsKey(made.Id));
    }

    /// <summary>Keeps the choice of the active study; null takes it back. On the disk when this returns.</summary>
    /// <exception cref="ArgumentException">There is no such study.</exception>
    public void Choose(string? studyId)
    {
        if (studyId is not null && Find(studyId) is null) throw new ArgumentException($"There is no study {studyId}.", nameof(studyId));
        _owner.SaveNote(NoteKinds.Work, ActiveStudy, new WorkChoice(studyId, _owner.Time.GetUtcNow()));
    }

    /// <summary>Keeps a study, new or changed, with the reason for the change; on the disk when this returns.</summary>
    /// <exception cref="IOException">It could not be kept.</exception>
    public void Save(Study study, string reason) =>
        _owner.Commit(EntryOf(study, Find(study.Id), reason, _owner.Time.GetUtcNow()) with { By = _owner.Who() });

    /// <summary>Keeps a new study; on the disk when this returns.</summary>
    /// <returns>False where one of that id is kept already: nothing was changed then.</returns>
    /// <exception cref="IOException">It could not be kept.</exception>
    public bool Add(Study study, string reason)
    {
        lock (Correcting)
        {
            if (Find(study.Id) is not null) return false;
            Save(study, reason);
            return true;
        }
    }

    /// <summary>
    /// Changes a study as it is at this moment: changes that come together, from a page and from a pull that freezes the plan, follow one
    /// another and none undoes another. A change that gives the study back as it was keeps nothing.
    /// </summary>
    /// <returns>The study as it is now; null where there is none.</returns>
    public Study? Change(string studyId, Func<Study, Study> change, string reason) => Change(studyId, change, reason, _ => [])?.Study;

    /// <summary>Changes a study as it is at this moment together with its runs: all of it is kept, or none.</summary>
    /// <param name="studyId">Which.</param>
    /// <param name="change">The change; one that gives the study back as it was keeps no version.</param>
    /// <param name="reason">Why.</param>
    /// <param name="revise">The next revision, or the next ones in turn, of each run that the changed study makes another, each with the
    /// message that tells of it.</param>
    /// <returns>The study as it is now and how many runs were revised; null where there is no such study.</returns>
    /// <exception cref="IOException">It could not be kept, or it is not known; the message says which.</exception>
    /// <exception cref="ArchiveConflictException">A run was revised meanwhile.</exception>
    public (Study Study, int Revised)? Change(
        string studyId, Func<Study, Study> change, string reason, Func<Study, IReadOnlyList<(Run Revision, OutboxMessage Message)>> revise)
    {
        lock (Correcting)
        {
            if (Find(studyId) is not { } before) return null;
            Study after = change(before);
            IReadOnlyList<(Run Revision, OutboxMessage Message)> revisions = revise(after);
            DateTimeOffset now = _owner.Time.GetUtcNow();
            By? who = _owner.Who();
            PlannedEntry[] study = ReferenceEquals(before, after) ? []
                : [new PlannedEntry(EntryOf(after, before, reason, now) with { By = who }, [])];
            // What a revision is made of was somebody else's.
            (Run, OutboxMessage)[] made = [.. revisions.Select(each => (each.Revision with { By = who }, each.Message))];
            if (study.Length + made.Length > 0) _owner.Commit(database => [.. study, .. InTurn(database, made, now)]);
            return (after, revisions.Select(run => run.Revision.Head.RunId).Distinct().Count());
        }
    }

    /// <summary>A study by its id, or null.</summary>
    public Study? Find(string studyId) => _owner.FindRecord<Study>(Collections.Studies, studyId);

    /// <summary>All studies, newest first.</summary>
    public IReadOnlyList<Study> All() => _owner.Read<IReadOnlyList<Study>>(database =>
        [.. database.GetCollection(Collections.Studies).FindAll()
            .Select(document => ChecksummedDocument.Read<Study>(document, Collections.Studies))
            .OrderByDescending(study => study.CreatedAt).ThenBy(study => study.Id, StringComparer.Ordinal)]);

    /// <summary>Every version of a study that was kept, the first first.</summary>
    public IReadOnlyList<StudyVersion> Versions(string studyId) =>
        _owner.Read(database => VersionRows.Of(database, studyId));

    private static JournalEntry EntryOf(Study study, Study? kept, string reason, DateTimeOffset at)
    {
        RigArchive.CheckId(study.Id, "study");
        JournalEntry entry = Entries.Study(study, reason, at);
        PlainText.Require(entry.Reason, ofSeveralLines: true);
        PlainRecord.Require(entry.Record, kept is null ? null : RecordText.Of(kept));
        return entry;
    }

    private static List<PlannedEntry> InTurn(LiteDB.ILiteDatabase database, IReadOnlyList<(Run Revision, OutboxMessage Message)> revisions,
        DateTimeOffset now)
    {
        var entries = new List<PlannedEntry>();
        var before = new Dictionary<string, Run>(StringComparer.Ordinal);
        foreach ((Run revision, OutboxMessage message) in revisions)
        {
            string run = revision.Head.RunId;
            JournalEntry planned = Entries.Revision(revision, [message], now) with { By = revision.By };
            if (RunRepository.InTurn(database, revision, planned, before.GetValueOrDefault(run)) is { } entry)
                entries.Add(new PlannedEntry(entry, []));
            before[run] = revision;
        }

        return entries;
    }

    /// <summary>The study that was chosen; null where the choice was taken back.</summary>
    private sealed record WorkChoice(string? StudyId, DateTimeOffset At);
}
