using RigDaq.Core.Signal;

namespace RigDaq.Core.Trace;

/// <summary>The still stretch before contact that a zero is taken from, from the first sample on.</summary>
/// <param name="Conversions">How many it holds, wild ones left out; samples, where the converter is read once each.</param>
/// <param name="Mean">The zero.</param>
/// <param name="Deviation">The standard deviation of the noise.</param>
/// <param name="EndSeconds">The time of its last conversion.</param>
public readonly record struct ZeroStretch(int Conversions, double Mean, double Deviation, double EndSeconds);

/// <summary>Finds the zero of a recorded trace: the first second, at least five conversions, before contact.</summary>
public static class ZeroFinder
{
    /// <summary>How much of a trace's beginning is looked at, in seconds.</summary>
    public const double WindowSeconds = 1;

    /// <summary>The fewest conversions a zero is taken from.</summary>
    public const int SamplesMin = 5;

    // A sample farther than this many standard deviations from the median of the stretch is a wild conversion.
    private const double WildDeviations = 8;

    /// <summary>Finds it.</summary>
    /// <param name="times">In seconds, never falling.</param>
    /// <param name="values">Finite, one a time. Where the converter was read several times each, its conversions are looked at, once
    /// each.</param>
    /// <param name="preload">The preload in the units of the values, or 0.</param>
    /// <returns>Null where fewer than five conversions lie before contact.</returns>
    public static ZeroStretch? Find(ReadOnlySpan<double> times, ReadOnlySpan<double> values, double preload)
    {
        if (Conversions.FirstReads(values) is not { } reads) return Of(times, values, preload);
        var firstTimes = new double[reads.Count];
        var firstValues = new double[reads.Count];
        for (int i = 0; i < reads.Count; i++) (firstTimes[i], firstValues[i]) = (times[reads[i]], values[reads[i]]);
        return Of(firstTimes, firstValues, preload);
    }

    private static ZeroStretch? Of(ReadOnlySpan<double> times, ReadOnlySpan<double> values, double preload)
    {
        if (values.Length < SamplesMin) return null;
        int end = SamplesMin;
        while (end < values.Length && times[end] - times[0] < WindowSeconds) end++;
        end = BeforeRise(times, values, end, preload);
        if (end < SamplesMin) return null;

        // The middle ones of five can lie close together by chance: then what follows tells the noise, too.
        List<double> kept = Steady(times, values, ref end, preload, spreadMin: 0)
            ?? Steady(times, values, ref end, preload, NoiseEstimate.FromSecondDifferences(Beginning(values, end))) ?? [.. values[..end]];
        (double mean, double deviation) = NoiseEstimate.Of(kept.ToArray());
        return new ZeroStretch(kept.Count, mean, deviation, times[end - 1]);
    }

    /// <summary>A stretch without its wild conversions, as many samples longer as it takes to have five. Null where more than one in three
    /// is wild: that is no spike but an unsteady signal, and all of it counts.</summary>
    private static List<double>? Steady(ReadOnlySpan<double> times, ReadOnlySpan<double> values, ref int end, double preload,
        double spreadMin)
    {
        int until = end;
        List<double> kept = WithoutWild(values, until, spreadMin);
        if (kept.Count < SamplesMin)
        {
            until = BeforeRise(times, values, Math.Min(values.Length, until + SamplesMin - kept.Count), preload);
            kept = WithoutWild(values, until, spreadMin);
        }

        if (kept.Count < SamplesMin || kept.Count < 0.67 * until) return null;
        end = until;
        return kept;
    }

    private static List<double> WithoutWild(ReadOnlySpan<double> values, int end, double spreadMin)
    {
        ReadOnlySpan<double> stretch = values[..end];
        double median = Median.Of(stretch);
        double spread = Math.Max(Median.SigmaOf(stretch), spreadMin);
        double limit = WildDeviations * (spread > 0 ? spread : Increment(values));
        var kept = new List<double>(stretch.Length);
        foreach (double value in stretch)
        {
            if (limit == 0 || Math.Abs(value - median) <= limit) kept.Add(value);
        }

        return kept;
    }

    /// <summary>Where a stretch has to end so that it holds nothing of a rise that begins in it.</summary>
    private static int BeforeRise(ReadOnlySpan<double> times, ReadOnlySpan<double> values, int end, double preload)
    {
        ReadOnlySpan<double> beginning = Beginning(values, end);
        double sigma =
            Math.Max(NoiseEstimate.FromSecondDifferences(beginning), Math.Max(Resolution(beginning), Resolution(values)) / Math.Sqrt(12));
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

            int clear = BelowRise(values, rise, zero, sigma);
            if (clear < SamplesMin && StillWindow.Judge(times[..rise], values[..rise], noise: 0).IsStill)
            {
                // Second differences of few can be far too small; what is still tells by itself how it scatters.
                (double mean, double deviation) = NoiseEstimate.Of(values[..rise]);
                clear = BelowRise(values, rise, mean, deviation);
            }

            return clear;
        }

        return end;
    }

    /// <summary>Enough values for second differences.</summary>
    private static ReadOnlySpan<double> Beginning(ReadOnlySpan<double> values, int end) =>
        values[..Math.Min(values.Length, Math.Max(end, 3 * SamplesMin))];

    /// <summary>Back down a ramp to where it leaves the noise, and as far again for what the noise still hides of it.</summary>
    private static int BelowRise(ReadOnlySpan<double> values, int rise, double zero, double sigma)
    {
        int foot = rise;
        while (foot > 0 && values[foot - 1] > zero + (3 * sigma)) foot--;
        int clear = foot - ((rise - foot) / 2) - 1;
        return clear >= SamplesMin ? clear : Math.Min(foot, SamplesMin);
    }

    /// <summary>One increment of a coarse converter: its noise is never taken for less than this over √12. Steps count where they go to and
    /// fro, as noise does and a rise does not.</summary>
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
