using RigDaq.Core.Signal;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Trace;

/// <summary>Whether a stretch that could be a zero is one. A recording that begins on the ramp, or under load, has none: what is taken off
/// then is taken off every force. A zero that only drifts is one: beside the loading its slope is small.</summary>
internal static class ZeroJudge
{
    // A slope that stands out of the noise is no zero's where it is this share of the mean loading rate, or changes the stretch
    // by this share of the greatest force.
    private const double RateShare = 0.2;
    private const double ChangeShare = 0.03;

    // What never rises so many times as far as it scatters has no loading to judge it by.
    private const double RangeNoisesMin = 20;

    // One step of a coarse converter in the middle of the stretch gives a line that rises by one and a half: no slope.
    private const double StepsMin = 2.5;

    // A force that ends this share of its range below the stretch says that the stretch bore load.
    private const double BelowShare = 0.25;
    private const double SettlingSeconds = 0.25;

    // A short stretch is looked at together with so many times its length, a second at least: is it the ramp's own beginning?
    private const int LookTimes = 3;
    private const double SlopeDeviations = 3;
    private const double FitsTimes = 1.2;

    // What scatters about it by so many noises is neither.
    private const double NoneFitsTimes = 2;

    // On a ramp the slope of the stretch is this share of the slope at the end of the look; flat ground before a ramp has less.
    private const double RampShare = 0.4;

    /// <summary>Judges it.</summary>
    /// <param name="times">Of the samples, in seconds.</param>
    /// <param name="forces">As given.</param>
    /// <param name="zero">The stretch; a rise at its end is left out of what is returned.</param>
    /// <returns>The zero, and why there is none, in words; empty where there is one.</returns>
    public static (ZeroStretch Zero, Sentence Refusal) Of(double[] times, double[] forces, ZeroStretch zero)
    {
        int end = 0;
        while (end < times.Length && times[end] <= zero.EndSeconds) end++;
        int top = Top(forces);
        double range = forces[top] - zero.Mean;
        if (!(range > 0) || times[top] <= zero.EndSeconds) return (zero, Sentence.None);
        if (range < RangeNoisesMin * NoiseEstimate.FromSecondDifferences(forces)) return (zero, Sentence.None);
        double rate = range / (times[top] - times[0]);
        double stepMin = StepsMin * Rounding.Of(forces).StepAt(zero.Mean);
        (double[] near, double[] steady) = Steady(times, forces, end, zero);
        double change = Slopes(near, steady, range, rate, stepMin);
        if (change != 0)
        {
            // A rise that begins near its end leaves its first half still.
            int half = near.Length / 2;
            if (half < ZeroFinder.SamplesMin || Slopes(near[..half], steady[..half], range, rate, stepMin) != 0)
                return (zero, CoreText.ZeroSlopes(change, near[^1] - near[0]));
            (double mean, double deviation) = NoiseEstimate.Of(steady.AsSpan(0, half));
            zero = new ZeroStretch(half, mean, deviation, near[half - 1]);
            while (end > half && times[end - 1] > zero.EndSeconds) end--;
        }

        if (BeginsRamp(times, forces, end)) return (zero, CoreText.ZeroOnRamp);
        double last = FallFinder.AtLast(times, forces, SettlingSeconds), lowest = LowestAfter(times, forces, top);

        // What came to rest at the file's own zero, and bore load again at last.
        if (lowest < last && lowest > -BelowShare * zero.Mean) last = lowest;
        return (zero, zero.Mean > 0 && zero.Mean - last > BelowShare * range ? CoreText.ZeroUnderLoad(zero.Mean, last) : Sentence.None);
    }

    /// <summary>The greatest sample of three in a row that are all high, as contact asks for: a wild conversion is no loading to judge a
    /// zero by.</summary>
    private static int Top(double[] forces)
    {
        int from = 0;
        double highest = double.NegativeInfinity;
        for (int i = 0; i + BreakDetector.SamplesMin <= forces.Length; i++)
        {
            double least = forces[i];
            for (int k = 1; k < BreakDetector.SamplesMin; k++) least = Math.Min(least, forces[i + k]);
            if (least <= highest) continue;
            (highest, from) = (least, i);
        }

        int top = from;
        for (int i = from; i < Math.Min(forces.Length, from + BreakDetector.SamplesMin); i++)
        {
            if (forces[i] > forces[top]) top = i;
        }

        return top;
    }

    /// <summary>The lowest that a force stays at after its top, for a settling window and three samples: where it rings, it does not
    /// stay.</summary>
    private static double LowestAfter(double[] times, double[] forces, int top)
    {
        double lowest = double.PositiveInfinity;
        for (int from = top; from < forces.Length;)
        {
            int to = from;
            double high = double.NegativeInfinity;
            while (to < forces.Length && (to - from < BreakDetector.SamplesMin || times[to] - times[from] < SettlingSeconds))
                high = Math.Max(high, forces[to++]);
            if (to - from >= BreakDetector.SamplesMin) lowest = Math.Min(lowest, high);
            from = to;
        }

        return lowest;
    }

    /// <summary>By how much a stretch changes that slopes too much; 0 where it does not.</summary>
    private static double Slopes(double[] times, double[] forces, double range, double rate, double changeMin)
    {
        Stillness still = StillWindow.Judge(times, forces, noise: 0);
        double change = times.Length > 0 ? still.SlopePerSecond * (times[^1] - times[0]) : 0;
        if (still.IsStill || range < RangeNoisesMin * still.Deviation || Math.Abs(change) <= changeMin) return 0;
        return Math.Abs(still.SlopePerSecond) > RateShare * rate || Math.Abs(change) > ChangeShare * range ? change : 0;
    }

    /// <summary>The stretch without its wild conversions.</summary>
    private static (double[] Times, double[] Forces) Steady(double[] times, double[] forces, int end, ZeroStretch zero)
    {
        const double WildDeviations = 8;
        int[] kept = [.. Enumerable.Range(0, end).Where(i => Math.Abs(forces[i] - zero.Mean) <= WildDeviations * zero.Deviation)];
        return ([.. kept.Select(i => times[i])], [.. kept.Select(i => forces[i])]);
    }

    /// <summary>Whether a stretch that the rise cut short slopes already as what follows it does.</summary>
    private static bool BeginsRamp(double[] times, double[] forces, int end)
    {
        // What was read several times is one conversion: repeats look like noise of another kind.
        if (Conversions.FirstReads(forces) is { } reads)
        {
            double until = times[Math.Max(0, end - 1)];
            (times, forces) = (FiniteSamples.Pick(times, reads), FiniteSamples.Pick(forces, reads));
            end = 0;
            while (end < times.Length && times[end] <= until) end++;
        }

        int look = LookTimes * end;
        while (look < times.Length && times[look] - times[0] < ZeroFinder.WindowSeconds) look++;
        look = Math.Min(Top(forces) + 1, look);
        if (times[Math.Max(0, end - 1)] - times[0] >= ZeroFinder.WindowSeconds / 2 || look < LookTimes * ZeroFinder.SamplesMin)
            return false;
        var fit = new LocalPolynomial();
        fit.Fit(times, forces, 0, look - 1);
        double noise = Math.Sqrt(fit.ResidualSquares / (look - 3));

        // Flat ground and then a ramp is no parabola: it fits better where it is what is there. The scatter of few samples is
        // never asked.
        double flat = Math.Sqrt(FlatThenRise.Squares(times, forces, look) / (look - 4));
        double rounding = 1e-9 * Math.Abs(forces[look - 1]);
        if (noise > (FitsTimes * flat) + rounding
            || noise > (NoneFitsTimes * NoiseEstimate.FromSecondDifferences(forces.AsSpan(0, look))) + rounding) return false;
        double middle = (times[0] + times[end - 1]) / 2;
        double slope = fit.SlopeAt(middle, 2);
        return slope > SlopeDeviations * noise * fit.SlopeNoiseFactorAt(middle, 2) && slope > RampShare * fit.SlopeAt(times[look - 1], 2);
    }
}
