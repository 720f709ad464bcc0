namespace RigDaq.Core.Statistics;

/// <summary>Grubbs' test of the value farthest from the mean (ISO 16269-4, ASTM E178). It reports; it never removes.</summary>
/// <param name="Value">The value farthest from the mean.</param>
/// <param name="Statistic">Its distance from the mean in standard deviations.</param>
/// <param name="Critical">The two-sided critical distance.</param>
/// <param name="Outlying">Whether the distance exceeds it.</param>
public sealed record Grubbs(double Value, double Statistic, double Critical, bool Outlying)
{
    /// <summary>The fewest values that can hold an outlier.</summary>
    public const int ValuesMin = 3;

    /// <summary>Tests, or gives null for fewer than three values or for values that are all the same.</summary>
    /// <param name="values">The group's values.</param>
    /// <param name="alpha">The two-sided level.</param>
    public static Grubbs? Test(IReadOnlyList<double> values, double alpha)
    {
        int n = values.Count;
        if (n < ValuesMin || Moments.Estimate(values) is not { IsConstant: false } estimate) return null;
        double deviation = Math.Sqrt(estimate.VarianceOfMean * n);
        double farthest = values.MaxBy(value => Math.Abs(value - estimate.Mean));
        double statistic = Math.Abs(farthest - estimate.Mean) / deviation;
        double critical = CriticalValue(n, alpha / 2);
        return new Grubbs(farthest, statistic, critical, statistic > critical);
    }

    /// <summary>The one-sided critical value at <paramref name="alpha"/>; halve α for the two-sided one.</summary>
    public static double CriticalValue(int n, double alpha)
    {
        double t = StudentT.UpperQuantile(alpha / n, n - 2);
        return (n - 1) / Math.Sqrt(n) * Math.Sqrt(t * t / (n - 2 + t * t));
    }
}
