namespace RigDaq.Core.Specimens;

/// <summary>Which group a piece of a study belongs to.</summary>
public static class StudyGroups
{
    /// <summary>Every group that a stretch of the study belongs to, printable or not, in the order of the prints and their
    /// stretches.</summary>
    public static IReadOnlyList<GroupKey> Groups(this Study study) => [.. study.Prints.SelectMany(print => print.Groups()).Distinct()];

    /// <summary>The group of each specimen, by the specimen's id; specimens of an unknown print are absent.</summary>
    public static IReadOnlyDictionary<string, GroupKey> GroupOfSpecimens(this Study study)
    {
        Dictionary<string, Print> prints = study.Prints.DistinctBy(print => print.Id).ToDictionary(print => print.Id);
        return study.Specimens.DistinctBy(specimen => specimen.Id).Where(specimen => prints.ContainsKey(specimen.PrintId))
            .ToDictionary(specimen => specimen.Id, specimen => prints[specimen.PrintId].GroupAt(specimen.Setting));
    }

    /// <summary>The group of one specimen; null where the study has no such specimen, or not its print.</summary>
    public static GroupKey? GroupOf(this Study study, string specimenId) =>
        study.Specimens.FirstOrDefault(specimen => specimen.Id == specimenId) is { } specimen
            ? study.Prints.FirstOrDefault(print => print.Id == specimen.PrintId)?.GroupAt(specimen.Setting)
            : null;

    /// <summary>The specimens of a group.</summary>
    public static IEnumerable<Specimen> SpecimensIn(this Study study, GroupKey group)
    {
        HashSet<string> prints = [.. study.Prints.Where(print => print.GroupAt(group.Setting) == group).Select(print => print.Id)];
        return study.Specimens.Where(specimen => specimen.Setting == group.Setting && prints.Contains(specimen.PrintId));
    }

    /// <summary>Whether a print of the study has a stretch in this group.</summary>
    public static bool Has(this Study study, GroupKey group) => study.Prints.Any(print => print.Groups().Contains(group));

    /// <summary>How many prints were made, planned or tried in a group, and how many of them failed: each try in vain is one.</summary>
    public static (int Prints, int Failed) PrintsOf(this Study study, GroupKey group)
    {
        Stretch[] stretches = [.. study.Prints.Where(print => print.GroupAt(group.Setting) == group)
            .Select(print => print.At(group.Setting)).OfType<Stretch>()];
        return (stretches.Sum(stretch => stretch.Failure?.Tries ?? 1), stretches.Sum(stretch => stretch.Failure?.Tries ?? 0));
    }

    /// <summary>Whether any print holds more than one setting.</summary>
    public static bool HasStretches(this Study study) => study.Prints.Any(print => print.Stretches.Count > 1);
}
