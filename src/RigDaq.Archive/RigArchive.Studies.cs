using RigDaq.Archive.Records;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive;

/// <content>Changes of studies; which one is worked on and which came from elsewhere are notes of the journal.</content>
public sealed partial class RigArchive
{
    private const string TheStudy = "study";

    /// <summary>
    /// Whoever corrects a study or one of its runs by what is kept of them holds this meanwhile, so that no correction is made of what
    /// another has changed since.
    /// </summary>
    public Lock Correcting { get; } = new();

    /// <summary>Rises with whatever is kept: who reads it first and the rest after it need not look again while it stays. Never
    /// waits.</summary>
    public long LastEntry => _owner.LastNumber;

    /// <inheritdoc/>
    public string? Chosen => FindRecord<WorkChoice>(Collections.Notes, NoteKinds.IdOf(NoteKinds.Work, TheStudy))?.StudyId;

    /// <inheritdoc/>
    public IReadOnlyDictionary<string, StudyOrigin> Origins
        => Notes<StudyOrigin>(NoteKinds.Origin, "").ToDictionary(origin => origin.StudyId, StringComparer.Ordinal);

    /// <inheritdoc/>
    public Study? Change(string studyId, Func<Study, Study> change, string reason)
    {
        lock (Correcting)
        {
            if (((IStudyArchive)this).Find(studyId) is not { } before) return null;
            Study after = change(before);
            if (!ReferenceEquals(before, after)) Save(after, reason);
            return after;
        }
    }

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
            if (((IStudyArchive)this).Find(studyId) is not { } before) return null;
            Study after = change(before);
            CheckId(after.Id, "study");
            DateTimeOffset now = _owner.Time.GetUtcNow();
            IReadOnlyList<(Run Revision, OutboxMessage Message)> revisions = revise(after);
            Journaling.JournalEntry study = Entries.Study(after, reason, now);
            RequirePlain(study, before);
            _owner.Commit(database => [.. ReferenceEquals(before, after) ? [] : (PlannedEntry[])[new PlannedEntry(study, [])],
                .. InTurn(database, revisions, now)]);
            return (after, revisions.Select(run => run.Revision.Head.RunId).Distinct().Count());
        }
    }

    private static List<PlannedEntry> InTurn(LiteDB.ILiteDatabase database, IReadOnlyList<(Run Revision, OutboxMessage Message)> revisions,
        DateTimeOffset now)
    {
        var entries = new List<PlannedEntry>();
        var before = new Dictionary<string, Run>(StringComparer.Ordinal);
        foreach ((Run revision, OutboxMessage message) in revisions)
        {
            string run = revision.Head.RunId;
            if (InTurn(database, revision, Entries.Revision(revision, [message], now), before.GetValueOrDefault(run)) is { } entry) entries
                .Add(new PlannedEntry(entry, []));
            before[run] = revision;
        }

        return entries;
    }

    /// <inheritdoc/>
    public void Choose(string? studyId)
    {
        if (studyId is not null && ((IStudyArchive)this).Find(studyId) is null) throw new ArgumentException($"There is no study {studyId}.",
            nameof(studyId));
        SaveNote(NoteKinds.Work, TheStudy, new WorkChoice(studyId, _owner.Time.GetUtcNow()));
    }

    /// <summary>The study that was chosen; null where the choice was taken back.</summary>
    private sealed record WorkChoice(string? StudyId, DateTimeOffset At);
}
