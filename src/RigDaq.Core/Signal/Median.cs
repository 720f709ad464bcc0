namespace RigDaq.Core.Signal;

/// <summary>The middle value, and the spread that goes with it. Sorting copies; not for use per sample.</summary>
internal static class Median
{
    /// <summary>From the median absolute deviation to the standard deviation of a normal distribution (1/Φ⁻¹(0.75)).</summary>
    public const double DeviationToSigma = 1.482602218505602;

    /// <summary>The median; NaN of nothing.</summary>
    public static double Of(ReadOnlySpan<double> values)
    {
        if (values.Length == 0) return double.NaN;
        double[] sorted = values.ToArray();
        Array.Sort(sorted);
        int half = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
    }

    /// <summary>The standard deviation as the median absolute deviation tells it; NaN of nothing.</summary>
    public static double SigmaOf(ReadOnlySpan<double> values)
    {
        double median = Of(values);
        var deviations = new double[values.Length];
        for (int i = 0; i < values.Length; i++) deviations[i] = Math.Abs(values[i] - median);
        return DeviationToSigma * Of(deviations);
    }
}
