using RigDaq.Core.Groups;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Comparisons;

/// <summary>Turns strengths into groups, comparisons and verdicts. Definitions: docs/statistics.md.</summary>
public static class Comparer
{
    /// <summary>No material comes near this strength in MPa; it keeps squares of squares finite.</summary>
    public const double StrengthMegapascalsMax = 1e9;

    /// <summary>Compares. A figure that cannot be had is null, and a warning says why.</summary>
    /// <param name="observations">Finite strengths; the order of first appearance is kept.</param>
    /// <param name="options">How.</param>
    /// <param name="failed">Stretches that could not be printed; null for none.</param>
    /// <exception cref="ArgumentException">There is no observation, one is not finite or beyond <see cref="StrengthMegapascalsMax"/>, an
    /// option is out of its range, or the reference condition is nowhere.</exception>
    public static ComparisonAnswer Compare(IReadOnlyList<Observation> observations, ComparisonOptions options,
        IReadOnlyList<FailedStretch>? failed = null)
    {
        options.Check();
        if (observations.Count == 0) throw new ArgumentException("There are no strengths to compare.");
        if (observations.Any(o => !(Math.Abs(o.StrengthMegapascals) <= StrengthMegapascalsMax)))
            throw new ArgumentException("A strength is not a number, or far beyond any strength.");
        if (options.ReferenceCondition is { } wanted && observations.All(o => o.Group.Condition != wanted))
            throw new ArgumentException($"No group has the reference condition “{wanted}”.");

        GroupSample[] groups = [.. observations.GroupBy(o => o.Group).Select(g => new GroupSample(g.Key, g))];
        PooledPrints? pooled = PooledPrints.Of(groups, options.SeparatePrints);
        var warnings = new List<Sentence>(SpeltTwice(observations));
        GroupStatistics[] statistics = [.. groups.Select(g => GroupDescriber.Describe(g, pooled, options, warnings))];
        PrintWarnings(groups, pooled, warnings, options.SettingUnit);

        (GroupSample B, GroupSample A)[] pairs = [.. ComparisonPairs.Of(groups, options, warnings)];
        PairComparison[] compared = [.. pairs.Select(pair => new PairComparison(pair.B, pair.A, pooled, options, warnings))];
        IReadOnlyList<double?> adjusted = Holm.Adjust([.. compared.Select(c => c.P)]);
        Comparison[] comparisons = [.. compared.Select((c, i) => c.Conclude(adjusted[i], compared.Length))];
        if (comparisons.Length > 1) warnings.Add(CoreText.ComparisonIntervalsUnadjusted);
        IReadOnlyList<SettingSeries> series = SettingSeriesMaker.Of(groups, pooled, options, warnings);
        QuestionAnswers answered = QuestionAnswerer.Answer(observations, options, failed);
        return new ComparisonAnswer(statistics, comparisons, [.. warnings.Concat(answered.Warnings).Distinct()], series)
        {
            Model = answered.Model,
            Answers = answered.Answers,
        };
    }

    private static IEnumerable<Sentence> SpeltTwice(IReadOnlyList<Observation> observations) =>
    [
        .. NameLikeness.Alike(observations.Select(o => o.Group.Material)).Select(CoreText.MaterialsAlike),
        .. NameLikeness.Alike(observations.Select(o => o.Group.Condition)).Select(CoreText.ConditionsAlike),
        .. observations.GroupBy(o => o.Group)
            .SelectMany(group => NameLikeness.Alike(group.Select(o => o.Print)).Select(CoreText.PrintsAlike)),
    ];

    private static void PrintWarnings(GroupSample[] groups, PooledPrints? pooled, List<Sentence> warnings, string unit)
    {
        if (groups.All(g => !g.HasSeveralPrints))
        {
            warnings.Add(CoreText.GroupsOfOnePrint);
            return;
        }

        string[] single = [.. groups.Where(g => !g.HasSeveralPrints).Select(g => g.Name(unit))];
        if (single.Length > 0) warnings.Add(CoreText.OnePrintOnly(single));
        if (pooled is { DegreesOfFreedom: < 4 }) warnings.Add(CoreText.FewDegreesBetweenPrints(pooled.DegreesOfFreedom));
    }
}
