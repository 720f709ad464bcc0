namespace RigDaq.Core.Specimens;

/// <summary>Where studies are kept; every version of a study stays in the journal.</summary>
public interface IStudyArchive
{
    /// <summary>Keeps a study, new or changed, with the reason for the change; on the disk when this returns.</summary>
    void Save(Study study, string reason);

    /// <summary>
    /// Changes a study as it is at this moment: changes that come together, from a page and from a pull that freezes the plan, follow one
    /// another and none undoes another. A change that gives the study back as it was keeps nothing.
    /// </summary>
    /// <returns>The study as it is now; null where there is none.</returns>
    Study? Change(string studyId, Func<Study, Study> change, string reason)
    {
        if (Find(studyId) is not { } before) return null;
        Study after = change(before);
        if (!ReferenceEquals(before, after)) Save(after, reason);
        return after;
    }

    /// <summary>A study by its id, or null.</summary>
    Study? Find(string studyId);

    /// <summary>All studies, newest first.</summary>
    IReadOnlyList<Study> All();

    /// <summary>Every version of a study that was kept, the first first.</summary>
    IReadOnlyList<StudyVersion> Versions(string studyId) => [];

    /// <summary>The id of the study that a person chose to work on; null where nobody chose one. See <see cref="ActiveStudy"/>.</summary>
    string? Chosen => null;

    /// <summary>Keeps the choice of the study that is worked on; null takes it back. On the disk when this returns.</summary>
    /// <exception cref="ArgumentException">There is no such study.</exception>
    void Choose(string? studyId) => throw new NotSupportedException();

    /// <summary>Studies that came from elsewhere, by their ids; what is not in here was made here, or imported before this was
    /// noted.</summary>
    IReadOnlyDictionary<string, StudyOrigin> Origins => new Dictionary<string, StudyOrigin>();
}
