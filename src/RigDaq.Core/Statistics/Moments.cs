namespace RigDaq.Core.Statistics;

/// <summary>The mean of some values and how far it can be trusted; what a comparison needs of a group.</summary>
/// <param name="Mean">The mean, in the values' unit.</param>
/// <param name="VarianceOfMean">s²/n, in the unit squared; 0 where all values are the same.</param>
/// <param name="DegreesOfFreedom">Of that variance, above 0.</param>
public readonly record struct MeanEstimate(double Mean, double VarianceOfMean, double DegreesOfFreedom)
{
    internal const double TenMachineSteps = 10 * 2.220446049250313e-16;

    /// <summary>Whether the variance is nothing but rounding: the standard error is below ten machine steps of the mean.</summary>
    public bool IsConstant => Math.Sqrt(VarianceOfMean) <= TenMachineSteps * Math.Abs(Mean);
}

/// <summary>Mean and standard deviation, accurate for values with many leading digits (two passes, the second corrected).</summary>
public static class Moments
{
    /// <summary>The arithmetic mean.</summary>
    /// <exception cref="ArgumentException">There are no values.</exception>
    public static double Mean(IReadOnlyList<double> values)
    {
        if (values.Count == 0) throw new ArgumentException("No values.", nameof(values));
        double first = values[0], sum = 0;
        foreach (double value in values) sum += value - first;
        double mean = first + sum / values.Count, rest = 0;
        foreach (double value in values) rest += value - mean;
        return mean + rest / values.Count;
    }

    /// <summary>The sum of squared deviations from the mean.</summary>
    public static double SumOfSquares(IReadOnlyList<double> values)
    {
        double mean = Mean(values), squares = 0, rest = 0;
        foreach (double value in values)
        {
            double deviation = value - mean;
            squares += deviation * deviation;
            rest += deviation;
        }

        // What the mean's own rounding left over (Chan, Golub and LeVeque 1983).
        return Math.Max(0, squares - rest * rest / values.Count);
    }

    /// <summary>The variance with n − 1, or null where there are fewer than two values.</summary>
    public static double? Variance(IReadOnlyList<double> values) => values.Count < 2 ? null : SumOfSquares(values) / (values.Count - 1);

    /// <summary>The standard deviation with n − 1, or null where there are fewer than two values.</summary>
    public static double? StandardDeviation(IReadOnlyList<double> values) => Variance(values) is { } variance ? Math.Sqrt(variance) : null;

    /// <summary>The median.</summary>
    public static double Median(IReadOnlyList<double> values)
    {
        double[] sorted = [.. values.Order()];
        if (sorted.Length == 0) throw new ArgumentException("No values.", nameof(values));
        int middle = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[middle] : sorted[middle - 1] + (sorted[middle] - sorted[middle - 1]) / 2;
    }

    /// <summary>Mean, its variance and degrees of freedom, or null where there are fewer than two values.</summary>
    public static MeanEstimate? Estimate(IReadOnlyList<double> values) =>
        Variance(values) is { } variance ? new MeanEstimate(Mean(values), variance / values.Count, values.Count - 1) : null;
}
