using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Comparisons;

/// <summary>One material and condition across its settings: what strength is retained, and how it changes per unit.</summary>
public sealed record SettingSeries
{
    /// <summary>The material.</summary>
    public required string Material { get; init; }

    /// <summary>The condition.</summary>
    public required string Condition { get; init; }

    /// <summary>The setting that retained strength is relative to.</summary>
    public required decimal ReferenceSetting { get; init; }

    /// <summary>The other settings, rising.</summary>
    public required IReadOnlyList<RetainedStrength> Retained { get; init; }

    /// <summary>MPa for each unit of the setting; null with fewer than three points.</summary>
    public required double? Slope { get; init; }

    /// <summary>The lower end of its interval.</summary>
    public required double? SlopeLow { get; init; }

    /// <summary>The upper end of its interval.</summary>
    public required double? SlopeHigh { get; init; }

    /// <summary>Points less 2; a point is a print's mean.</summary>
    public required int? SlopeDegreesOfFreedom { get; init; }
}

/// <summary>Strength at a setting in per cent of that at the reference setting, with Fieller's interval.</summary>
/// <param name="Setting">The setting.</param>
/// <param name="Percent">100 is as strong as at the reference setting; null where the reference mean is not above 0.</param>
/// <param name="PercentLow">The lower end of the interval.</param>
/// <param name="PercentHigh">The upper end of the interval.</param>
/// <param name="Method">"prints" or "welch".</param>
public sealed record RetainedStrength(decimal Setting, double? Percent, double? PercentLow, double? PercentHigh, string Method);

/// <summary>Makes the series of an answer.</summary>
internal static class SettingSeriesMaker
{
    public static IReadOnlyList<SettingSeries> Of(IReadOnlyList<GroupSample> groups, PooledPrints? pooled, ComparisonOptions options,
        List<Sentence> warnings)
    {
        var series = new List<SettingSeries>();
        foreach (var family in groups.Where(g => g.Key.Setting is not null).GroupBy(g => (g.Key.Material, g.Key.Condition)))
        {
            GroupSample[] points = [.. family.OrderBy(g => g.Key.Setting)];
            if (points.Length < 2) continue;
            GroupSample? reference = options.ReferenceSetting is { } wanted ? points.FirstOrDefault(g => g.Key.Setting == wanted)
                : points[0];
            if (reference is null)
            {
                string setting = GroupKey.SettingText(options.ReferenceSetting, options.SettingUnit);
                warnings.Add(CoreText.ReferenceSettingWithoutSpecimens(family.Key.Material, family.Key.Condition, setting));
                reference = points[0];
            }

            (double Slope, Interval? Interval, int Degrees)? line = Line(points, options.Alpha);
            series.Add(new SettingSeries
            {
                Material = family.Key.Material,
                Condition = family.Key.Condition,
                ReferenceSetting = reference.Key.Setting!.Value,
                Retained = [.. points.Where(g => g != reference).Select(g => Retained(g, reference, pooled, options))],
                Slope = line?.Slope,
                SlopeLow = line?.Interval?.Low,
                SlopeHigh = line?.Interval?.High,
                SlopeDegreesOfFreedom = line?.Degrees,
            });
        }

        return series;
    }

    private static RetainedStrength Retained(GroupSample group, GroupSample reference, PooledPrints? pooled, ComparisonOptions options)
    {
        (TwoMeans? means, string method) = PooledPrints.Within(group, reference, pooled, options.SeparatePrints);
        double? ratio = means is not null ? means.Ratio : TwoMeans.RatioOf(group.Mean, reference.Mean);
        Interval? interval = means is { HasScatter: true } ? means.RatioInterval(options.Alpha) : null;
        return new RetainedStrength(group.Key.Setting!.Value, 100 * ratio, 100 * interval?.Low, 100 * interval?.High, method);
    }

    /// <summary>A least-squares line through print means over the setting; null with fewer than three points.</summary>
    private static (double Slope, Interval? Interval, int Degrees)? Line(GroupSample[] groups, double alpha)
    {
        (double X, double Y)[] points = [.. groups.SelectMany(g => g.PrintMeans.Select(mean => ((double)g.Key.Setting!.Value, mean)))];
        if (points.Length < 3) return null;
        double x0 = Moments.Mean([.. points.Select(p => p.X)]), y0 = Moments.Mean([.. points.Select(p => p.Y)]);
        double xx = points.Sum(p => (p.X - x0) * (p.X - x0)), xy = points.Sum(p => (p.X - x0) * (p.Y - y0));
        double slope = xy / xx;
        double residual = points.Sum(p => Math.Pow(p.Y - y0 - slope * (p.X - x0), 2));
        int degrees = points.Length - 2;
        double half = StudentT.TwoSidedQuantile(alpha, degrees) * Math.Sqrt(residual / degrees / xx);
        return double.IsFinite(slope) && double.IsFinite(half) ? (slope, new Interval(slope - half, slope + half), degrees) : null;
    }
}
