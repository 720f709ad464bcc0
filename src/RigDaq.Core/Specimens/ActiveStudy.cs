namespace RigDaq.Core.Specimens;

/// <summary>Which study a rig works on.</summary>
public static class ActiveStudy
{
    /// <summary>
    /// The study that a person chose; without a choice the newest that was made here. One that came from elsewhere is worked on only where
    /// a person says so: its specimens lie on another bench.
    /// </summary>
    /// <returns>Null where none was chosen and none was made here.</returns>
    public static Study? Of(IStudyArchive studies)
    {
        if (studies.Chosen is { } chosen && studies.Find(chosen) is { } study) return study;
        IReadOnlyDictionary<string, StudyOrigin> imported = studies.Origins;
        return studies.All().FirstOrDefault(made => !imported.ContainsKey(made.Id));
    }
}

/// <summary>Where a study came from that was not made here.</summary>
/// <param name="StudyId">The study.</param>
/// <param name="Package">The package's name.</param>
/// <param name="At">When it was imported.</param>
public sealed record StudyOrigin(string StudyId, string Package, DateTimeOffset At);
