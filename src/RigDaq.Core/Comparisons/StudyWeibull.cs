using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Text;

namespace RigDaq.Core.Comparisons;

/// <summary>A group's Weibull fit.</summary>
/// <param name="Group">The group.</param>
/// <param name="Fit">The fit; null where there is none.</param>
/// <param name="Problem">Why there is none; empty where there is one.</param>
public sealed record GroupWeibull(GroupKey Group, WeibullFit? Fit, Sentence Problem);

/// <summary>Weibull fits of a study's groups.</summary>
public static class StudyWeibull
{
    /// <summary>Fits each group: strengths that count are failures, strengths voided as grip failures are right-censored (the layers held
    /// at least so much), those voided for another reason are left out.</summary>
    public static IReadOnlyList<GroupWeibull> Of(StudyAnswer answer, double confidencePercent = 95) =>
        [.. answer.Strengths.GroupBy(s => s.Group).Select(group =>
        {
            WeibullFit? fit = Weibull.Fit(
                [.. group.Where(s => s.Void is null).Select(s => s.Megapascals)],
                [.. group.Where(s => s.Void?.Kind == VoidKind.GripFailure).Select(s => s.Megapascals)],
                confidencePercent,
                out Sentence problem);
            return new GroupWeibull(group.Key, fit, problem);
        })];
}
