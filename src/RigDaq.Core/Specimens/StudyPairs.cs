namespace RigDaq.Core.Specimens;

/// <summary>Which groups of a study are compared, by its plan.</summary>
public static class StudyPairs
{
    /// <summary>The planned comparisons; without any, each condition with the reference condition, or all pairs.</summary>
    public static IReadOnlyList<(GroupKey Condition, GroupKey Reference)> Of(Study study)
    {
        if (study.PlannedComparisons is { } planned)
            return
                [.. planned
                .Select(p => (new GroupKey(p.Material, p.Condition, p.Setting), new GroupKey(p.Material, p.Reference, p.Setting)))];
        IReadOnlyList<GroupKey> groups = study.Groups();
        if (study.ReferenceCondition is { } reference)
            return [.. groups.Where(g => g.Condition != reference && groups.Contains(g with { Condition = reference }))
                .Select(g => (g, g with { Condition = reference }))];
        return
            [.. groups.SelectMany((earlier, i) => groups.Skip(i + 1).Where(later => later == earlier with { Condition = later.Condition })
            .Select(later => (later, earlier)))];
    }
}
