using RigDaq.Core.Questions;
using RigDaq.Core.Statistics;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Comparisons;

/// <summary>A group's figures, each null with a warning where it cannot be had.</summary>
internal static class GroupDescriber
{
    /// <summary>A mean above this from a desktop printer deserves a look at section and calibration (common practice, no source).</summary>
    private const double LikelyMegapascalsMax = 60;

    public static GroupStatistics Describe(GroupSample group, PooledPrints? pooled, ComparisonOptions options, List<Sentence> warnings)
    {
        string name = group.Name(options.SettingUnit);
        double? deviation = Moments.StandardDeviation(group.Values);
        MeanEstimate? estimate = !group.HasSeveralPrints ? Moments.Estimate(group.Values)
            : pooled is not null && PooledPrints.Pools(group) ? pooled.Estimate(group) : Moments.Estimate(group.PrintMeans);
        bool constant = Moments.Estimate(group.Values) is { IsConstant: true };
        if (estimate is null) warnings.Add(CoreText.GroupOfOneSpecimen(name));
        else if (constant) warnings.Add(CoreText.GroupConstant(name, group.Values.Count));
        if (group.Mean <= 0) warnings.Add(CoreText.GroupMeanNotAboveZero(name));
        if (estimate is { IsConstant: true } && !constant) warnings.Add(CoreText.GroupPrintsConstant(name));

        if (group.Mean > LikelyMegapascalsMax) warnings.Add(CoreText.GroupTooStrong(name, options.Units.Stress.Text(group.Mean, 0)));

        Interval? interval = null;
        if (estimate is { IsConstant: false } e && !constant)
        {
            double half = StudentT.TwoSidedQuantile(options.Alpha, e.DegreesOfFreedom) * Math.Sqrt(e.VarianceOfMean);
            // Print means about zero have no relative scatter to speak of: then there is no interval.
            if (double.IsFinite(half)) interval = new Interval(e.Mean - half, e.Mean + half);
        }

        Grubbs? grubbs = Grubbs.Test(group.Values, options.Alpha);
        if (grubbs is null && !constant && group.Values.Count == 2) warnings.Add(CoreText.GroupTooSmallForOutliers(name));
        OneWayAnova? anova = OneWayAnova.Of(group.Prints);
        return new GroupStatistics
        {
            Material = group.Key.Material,
            Condition = group.Key.Condition,
            Setting = group.Key.Setting,
            N = group.Values.Count,
            Prints = group.Prints.Count,
            Mean = group.Mean,
            StandardDeviation = deviation,
            VariationPercent = deviation is { } d ? 100 * TwoMeans.RatioOf(d, group.Mean) : null,
            Low = interval?.Low,
            High = interval?.High,
            Median = Moments.Median(group.Values),
            Minimum = group.Values.Min(),
            Maximum = group.Values.Max(),
            Grubbs = grubbs,
            BetweenPrintVariance = anova?.BetweenVariance,
            WithinPrintVariance = anova?.WithinMeanSquare ?? (group.HasSeveralPrints ? null : Moments.Variance(group.Values)),
        };
    }
}
