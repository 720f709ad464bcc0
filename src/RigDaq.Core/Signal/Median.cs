namespace RigDaq.Core.Signal;

/// <summary>The middle value, and the spread that goes with it. Copies; not for use per sample.</summary>
internal static class Median
{
    /// <summary>From the median absolute deviation to the standard deviation of a normal distribution (1/Φ⁻¹(0.75)).</summary>
    public const double DeviationToSigma = 1.482602218505602;

    // Fewer than this are sorted sooner than parted.
    private const int FewMax = 32;

    /// <summary>The median; NaN of nothing. Where a value is no number, those count as the smallest.</summary>
    public static double Of(ReadOnlySpan<double> values)
    {
        if (values.Length == 0) return double.NaN;
        double[] copy = values.ToArray();
        int half = copy.Length / 2;
        Part(copy, half);
        double upper = copy[half];
        if (copy.Length % 2 == 1) return upper;
        double lower = copy[0];
        for (int i = 1; i < half; i++) lower = copy[i] > lower || double.IsNaN(lower) ? copy[i] : lower;
        return (lower + upper) / 2;
    }

    /// <summary>The standard deviation as the median absolute deviation tells it; NaN of nothing.</summary>
    public static double SigmaOf(ReadOnlySpan<double> values)
    {
        double median = Of(values);
        var deviations = new double[values.Length];
        for (int i = 0; i < values.Length; i++) deviations[i] = Math.Abs(values[i] - median);
        return DeviationToSigma * Of(deviations);
    }

    /// <summary>
    /// Puts the value that sorting would put at a place there, none greater before it, none smaller behind it: in proportion to their
    /// number (Hoare, "Algorithm 65: FIND", Communications of the ACM 4(7), 1961), where sorting takes a logarithm longer.
    /// </summary>
    private static void Part(double[] values, int place)
    {
        int low = 0, high = values.Length - 1;
        // Values that were made to part badly are sorted in the end.
        int tries = 2 * int.Log2(values.Length);
        bool areNumbers = !Array.Exists(values, double.IsNaN);
        while (areNumbers && high - low > FewMax && tries-- > 0)
        {
            double pivot = Middle(values[low], values[low + ((high - low) / 2)], values[high]);
            int i = low, j = high;
            while (i <= j)
            {
                while (values[i] < pivot) i++;
                while (values[j] > pivot) j--;
                if (i > j) break;
                (values[i], values[j]) = (values[j], values[i]);
                i++;
                j--;
            }

            if (place <= j) high = j;
            else if (place >= i) low = i;
            else return;
        }

        Array.Sort(values, low, high - low + 1);
    }

    private static double Middle(double a, double b, double c) => Math.Max(Math.Min(a, b), Math.Min(Math.Max(a, b), c));
}
