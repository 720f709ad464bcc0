namespace RigDaq.Core.Statistics;

/// <summary>A group's figures, each null with a warning where it cannot be had.</summary>
internal static class GroupDescriber
{
    /// <summary>A mean above this from a desktop printer deserves a look at section and calibration (common practice, no source).</summary>
    private const double LikelyMegapascalsMax = 60;

    public static GroupStatistics Describe(GroupSample group, PooledPrints? pooled, ComparisonOptions options, List<string> warnings)
    {
        string name = group.Name(options.SettingUnit);
        double? deviation = Moments.StandardDeviation(group.Values);
        MeanEstimate? estimate = pooled is not null && group.HasSeveralPrints ? pooled.Estimate(group) : Moments.Estimate(group.Values);
        bool constant = Moments.Estimate(group.Values) is { IsConstant: true };
        if (estimate is null) warnings.Add($"{name}: one specimen only, so no scatter and no interval.");
        else if (constant) warnings.Add($"{name}: all {group.Values.Count} values are the same, so there is no interval; real specimens scatter: were they rounded or copied?");
        if (group.Mean <= 0) warnings.Add($"{name}: the mean is not above 0, so nothing can be given in per cent of it.");
        if (estimate is { IsConstant: true } && !constant) warnings.Add($"{name}: the print means do not scatter at all, so there is no interval.");

        if (group.Mean > LikelyMegapascalsMax)
            warnings.Add($"{name}: a mean of {options.Units.Stress.Text(group.Mean, 0)} is more than layers of a desktop print usually hold; look at the section and the calibration.");

        Interval? interval = null;
        if (estimate is { IsConstant: false } e && !constant)
        {
            double half = StudentT.TwoSidedQuantile(options.Alpha, e.DegreesOfFreedom) * Math.Sqrt(e.VarianceOfMean);
            interval = new Interval(e.Mean - half, e.Mean + half);
        }

        Grubbs? grubbs = Grubbs.Test(group.Values, options.Alpha);
        if (grubbs is null && !constant && group.Values.Count == 2) warnings.Add($"{name}: two specimens are too few to test for an outlier.");
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
