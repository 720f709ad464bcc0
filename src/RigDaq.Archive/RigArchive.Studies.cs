using RigDaq.Archive.Records;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive;

/// <content>Changes of studies; which one is worked on and which came from elsewhere are notes of the journal.</content>
public sealed partial class RigArchive
{
    private const string Work = "work", TheStudy = "study", Origin = "origin";

    private readonly Lock _changing = new();

    /// <summary>Rises with whatever is kept: who reads it first and the rest after it need not look again while it stays. Never waits.</summary>
    public long LastEntry => _owner.LastNumber;

    /// <inheritdoc/>
    public string? Chosen => FindRecord<WorkChoice>(Collections.Notes, NoteId(Work, TheStudy))?.StudyId;

    /// <inheritdoc/>
    public IReadOnlyDictionary<string, StudyOrigin> Origins => Notes<StudyOrigin>(Origin, "").ToDictionary(origin => origin.StudyId, StringComparer.Ordinal);

    /// <inheritdoc/>
    public Study? Change(string studyId, Func<Study, Study> change, string reason)
    {
        lock (_changing)
        {
            if (((IStudyArchive)this).Find(studyId) is not { } before) return null;
            Study after = change(before);
            if (!ReferenceEquals(before, after)) Save(after, reason);
            return after;
        }
    }

    /// <inheritdoc/>
    public void Choose(string? studyId)
    {
        if (studyId is not null && ((IStudyArchive)this).Find(studyId) is null) throw new ArgumentException($"There is no study {studyId}.", nameof(studyId));
        SaveNote(Work, TheStudy, new WorkChoice(studyId, _owner.Time.GetUtcNow()));
    }

    /// <summary>Notes that a study was not made here.</summary>
    internal void NoteOrigin(string studyId, string package)
    {
        CheckId(studyId, "study");
        SaveNote(Origin, studyId, new StudyOrigin(studyId, package, _owner.Time.GetUtcNow()));
    }

    /// <summary>The study that was chosen; null where the choice was taken back.</summary>
    private sealed record WorkChoice(string? StudyId, DateTimeOffset At);
}
