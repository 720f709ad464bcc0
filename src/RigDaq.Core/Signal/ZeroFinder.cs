namespace RigDaq.Core.Signal;

/// <summary>The still stretch before contact that a zero is taken from.</summary>
/// <param name="Start">Its first sample.</param>
/// <param name="End">The sample behind its last.</param>
/// <param name="Mean">The zero.</param>
/// <param name="Deviation">The standard deviation of the noise.</param>
/// <param name="SpikesLeftOut">Wild conversions in it that the mean does not hold.</param>
public readonly record struct ZeroStretch(int Start, int End, double Mean, double Deviation, int SpikesLeftOut);

/// <summary>Finds the zero of a recorded trace: the first second, at least five samples, before contact.</summary>
public static class ZeroFinder
{
    /// <summary>How much of a trace's beginning is looked at, in seconds.</summary>
    public const double WindowSeconds = 1;

    /// <summary>The fewest samples a zero is taken from.</summary>
    public const int SamplesMin = 5;

    // A sample farther than this many standard deviations from the median of the stretch is a wild conversion.
    private const double WildDeviations = 8;

    /// <summary>Finds it.</summary>
    /// <param name="times">In seconds, never falling.</param>
    /// <param name="values">Finite, one a time.</param>
    /// <param name="preload">The preload in the units of the values, or 0.</param>
    /// <returns>Null where fewer than five samples lie before contact.</returns>
    public static ZeroStretch? Find(ReadOnlySpan<double> times, ReadOnlySpan<double> values, double preload)
    {
        if (values.Length < SamplesMin) return null;
        int end = SamplesMin;
        while (end < values.Length && times[end] - times[0] < WindowSeconds) end++;
        end = BeforeRise(values, end, preload);
        if (end < SamplesMin) return null;
        ReadOnlySpan<double> stretch = values[..end];
        double median = Median.Of(stretch);
        double spread = Median.SigmaOf(stretch);
        double limit = WildDeviations * (spread > 0 ? spread : Increment(values));
        var kept = new List<double>(end);
        foreach (double value in stretch)
        {
            if (limit == 0 || Math.Abs(value - median) <= limit) kept.Add(value);
        }

        // Where more than one in three is wild it is no spike but an unsteady signal: all of it counts.
        if (kept.Count < SamplesMin || kept.Count < 0.67 * end) kept = [.. stretch];
        (double mean, double deviation) = NoiseEstimate.Of(kept.ToArray());
        return new ZeroStretch(0, end, mean, deviation, end - kept.Count);
    }

    /// <summary>Where a stretch has to end so that it holds nothing of a rise that begins in it.</summary>
    private static int BeforeRise(ReadOnlySpan<double> values, int end, double preload)
    {
        ReadOnlySpan<double> beginning = values[..Math.Min(values.Length, Math.Max(end, 3 * SamplesMin))];
        double sigma = Math.Max(NoiseEstimate.FromSecondDifferences(beginning), Resolution(beginning) / Math.Sqrt(12));
        double zero = Median.Of(values[..BreakDetector.SamplesMin]);
        double contact = zero + Math.Max(preload, BreakDetector.ContactNoises * sigma);
        int inContact = 0;
        int seen = Math.Min(values.Length, end + BreakDetector.SamplesMin - 1);
        for (int i = 0; i < seen; i++)
        {
            inContact = values[i] > contact ? inContact + 1 : 0;
            if (inContact < BreakDetector.SamplesMin) continue;
            int rise = i - BreakDetector.SamplesMin + 1;
            if (rise >= end) return end;

            // Back down the ramp to where it leaves the noise, and as far again for what the noise still hides of it.
            int foot = rise;
            while (foot > 0 && values[foot - 1] > zero + (3 * sigma)) foot--;
            int clear = foot - ((rise - foot) / 2) - 1;
            return clear >= SamplesMin ? clear : Math.Min(foot, SamplesMin);
        }

        return end;
    }

    /// <summary>
    /// One increment of a coarse converter: its noise is never taken for less than this over √12. Steps count where they go to
    /// and fro, as noise does and a rise does not.
    /// </summary>
    internal static double Resolution(ReadOnlySpan<double> values)
    {
        const int TurnsMin = 3;
        double smallest = double.PositiveInfinity;
        double before = 0;
        int turns = 0;
        for (int i = 1; i < values.Length; i++)
        {
            double step = values[i] - values[i - 1];
            if (step == 0) continue;
            if (step * before < 0)
            {
                turns++;
                smallest = Math.Min(smallest, Math.Max(Math.Abs(step), Math.Abs(before)));
            }

            before = step;
        }

        return turns >= TurnsMin ? smallest : 0;
    }

    /// <summary>The smallest step anywhere in a trace: one increment of a coarse converter.</summary>
    private static double Increment(ReadOnlySpan<double> values)
    {
        double smallest = double.PositiveInfinity;
        for (int i = 1; i < values.Length; i++)
        {
            double step = Math.Abs(values[i] - values[i - 1]);
            if (step > 0) smallest = Math.Min(smallest, step);
        }

        return double.IsFinite(smallest) ? smallest : 0;
    }
}
