using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Comparisons;

/// <summary>Which groups are set against which: the plan's, each with the reference condition, or all pairs.</summary>
internal static class ComparisonPairs
{
    public static List<(GroupSample B, GroupSample A)> Of(IReadOnlyList<GroupSample> groups, ComparisonOptions options,
        List<Sentence> warnings)
    {
        if (options.Planned is { } planned) return Planned(groups, planned, options, warnings);
        WarnOfUnequalSettings(groups, options, warnings);
        return options.ReferenceCondition is { } reference ? WithReference(groups, reference, options, warnings) : AllPairs(groups);
    }

    private static List<(GroupSample, GroupSample)> Planned(IReadOnlyList<GroupSample> groups, IReadOnlyList<PlannedComparison> planned,
        ComparisonOptions options, List<Sentence> warnings)
    {
        var pairs = new List<(GroupSample, GroupSample)>();
        foreach (PlannedComparison plan in planned)
        {
            GroupSample? b = Find(plan.Condition), a = Find(plan.Reference);
            if (b is not null && a is not null)
            {
                pairs.Add((b, a));
                continue;
            }

            string place = string
                .Join(", ", new[] { plan.Material, GroupKey.SettingText(plan.Setting, options.SettingUnit) }.Where(s => s.Length > 0));
            var missing = new[] { b is null ? plan.Condition : null, a is null ? plan.Reference : null }.OfType<string>();
            warnings.Add(CoreText.PlannedCannotBeMade(place, plan.Condition, plan.Reference, missing));

            GroupSample? Find(string condition) => groups.FirstOrDefault(g =>
                g.Key.Material == plan.Material && g.Key.Setting == plan.Setting && g.Key.Condition == condition);
        }

        string[] outside = [.. groups.Where(g => !planned.Any(p => p.Material == g.Key.Material && p.Setting == g.Key.Setting
            && (p.Condition == g.Key.Condition || p.Reference == g.Key.Condition))).Select(g => g.Name(options.SettingUnit))];
        if (outside.Length > 0) warnings.Add(CoreText.OutsidePlan(outside));
        return pairs;
    }

    private static List<(GroupSample, GroupSample)> WithReference(IReadOnlyList<GroupSample> groups, string reference,
        ComparisonOptions options, List<Sentence> warnings)
    {
        var pairs = new List<(GroupSample, GroupSample)>();
        foreach (GroupSample group in groups)
        {
            if (group.Key.Condition == reference) continue;
            GroupSample? other = groups.FirstOrDefault(g => g.Key == group.Key with { Condition = reference });
            if (other is not null) pairs.Add((group, other));
            else warnings.Add(CoreText.ReferenceAbsent(group.Name(options.SettingUnit), reference));
        }

        return pairs;
    }

    private static List<(GroupSample, GroupSample)> AllPairs(IReadOnlyList<GroupSample> groups)
    {
        var pairs = new List<(GroupSample, GroupSample)>();
        for (int earlier = 0; earlier < groups.Count; earlier++)
        {
            for (int later = earlier + 1; later < groups.Count; later++)
            {
                if (groups[later].Key == groups[earlier].Key with { Condition = groups[later].Key.Condition }) pairs
                    .Add((groups[later], groups[earlier]));
            }
        }

        return pairs;
    }

    private static void WarnOfUnequalSettings(IReadOnlyList<GroupSample> groups, ComparisonOptions options, List<Sentence> warnings)
    {
        foreach (var material in groups.GroupBy(g => g.Key.Material))
        {
            decimal?[] settings = [.. material.Select(g => g.Key.Setting).Distinct()];
            foreach (var condition in material.GroupBy(g => g.Key.Condition))
            {
                decimal?[] missing = [.. settings.Except(condition.Select(g => g.Key.Setting))];
                if (missing.Length == 0) continue;
                var named = missing.Select(s => s is null ? CoreText.WithoutSetting : GroupKey.SettingText(s, options.SettingUnit));
                warnings.Add(CoreText.SettingsNotMeasured(material.Key, condition.Key, named));
            }
        }
    }
}
