using RigDaq.Core.Signal;

namespace RigDaq.Core.Trace;

/// <summary>
/// The peak of a specimen that tears or slides: the force rises into a corner and goes down from it over several samples. It is where the
/// curve before and the curve after meet. Between two samples nothing is lost then, and a converter's delay moves both alike.
/// </summary>
internal static class CornerPeak
{
    // Outside of what noise hides of a corner, to begin with.
    private const double ClearNoises = 8;

    // The fewest samples of a rise and of a fall.
    private const int RiseSamplesMin = 5;
    private const int FallSamplesMin = 4;
    private const int RoundsMax = 10;

    // A slope is one beyond so many of its own standard deviations.
    private const double SlopeDeviations = 2;

    // What lies between the two curves' samples may be off them by so many deviations of the noise.
    private const double BetweenNoises = 5;

    /// <summary>Finds it.</summary>
    /// <param name="trace">The samples.</param>
    /// <param name="fall">The last fall.</param>
    /// <param name="sigma">The standard deviation of a sample's noise under load, 0 or more.</param>
    /// <returns>Null where the fall is too sudden to be seen, or does not begin at a corner that the force rose into.</returns>
    public static PeakEstimate? Find(LoadedTrace trace, Fall fall, double sigma)
    {
        (double[] times, double[] forces, int contact) = (trace.Times, trace.Forces, trace.Contact);
        int top = contact;
        for (int i = contact; i < fall.Crossing; i++)
        {
            if (forces[i] > forces[top]) top = i;
        }

        double noise = Math.Max(sigma, 1e-9 * Math.Abs(forces[top]));
        int before = top, after = top;
        while (before > contact && forces[before] >= forces[top] - (ClearNoises * noise)) before--;
        while (after < fall.Crossing && forces[after] >= forces[top] - (ClearNoises * noise)) after++;

        // It fell before the last fall: a yield, not the corner of that fall.
        if (after < fall.Start) return null;

        // Half of the time that a conversion averages over, or of an interval.
        double guard = Math.Max(trace.Given.ConverterDelaySeconds, trace.IntervalSeconds / 2);
        var rise = new LocalPolynomial();
        var slide = new LocalPolynomial();
        int first = 0;
        double at = 0;
        for (int round = 0; round < RoundsMax; round++)
        {
            if (before - contact + 1 < RiseSamplesMin || fall.Crossing - after + 1 < FallSamplesMin) return null;
            first = before - PeakEstimator.Widest(rise, times, forces, before, contact, RiseSamplesMin, noise) + 1;
            PeakEstimator.Widest(slide, times, forces, after, fall.Crossing, FallSamplesMin, noise);
            if (Meet(rise, slide, times[before], times[after], guard, noise) is not { } crossing) return null;
            at = crossing;
            int nextBefore = before, nextAfter = after;
            while (nextBefore + 1 < times.Length && times[nextBefore + 1] < at - guard) nextBefore++;
            while (nextBefore > contact && times[nextBefore] >= at - guard) nextBefore--;
            while (nextAfter > contact && times[nextAfter - 1] > at + guard) nextAfter--;
            while (nextAfter < fall.Crossing && times[nextAfter] <= at + guard) nextAfter++;
            if (nextBefore == before && nextAfter == after) break;
            (before, after) = (nextBefore, nextAfter);
        }

        // A fall that goes up and down from sample to sample says nothing of where it began.
        if (PeakEstimator.Misfit(slide, noise) > 1) return null;
        int riseDegree = PeakEstimator.DegreeOf(rise, noise), slideDegree = PeakEstimator.DegreeOf(slide, noise);
        double up = rise.SlopeAt(at, riseDegree), down = -slide.SlopeAt(at, slideDegree);
        if (up <= SlopeDeviations * noise * rise.SlopeNoiseFactorAt(at, riseDegree)) return null;
        if (down <= SlopeDeviations * noise * slide.SlopeNoiseFactorAt(at, slideDegree)) return null;

        // A top that is rounded is no corner; a conversion across one shows at most (r₁ + r₂)·d/4 less than it.
        double between = BetweenNoises * noise;
        for (int i = before + 1; i < after; i++)
        {
            double off = forces[i] - Math.Min(rise.At(times[i], riseDegree).Value, slide.At(times[i], slideDegree).Value);
            if (off > between || off < -between - ((up + down) * guard / 4)) return null;
        }

        // Two lines that are off by e₁ and e₂ meet (r₂·e₁ + r₁·e₂)/(r₁ + r₂) higher.
        double uncertainty =
            double.Hypot(down * Uncertainty(rise, at, riseDegree, noise), up * Uncertainty(slide, at, slideDegree, noise)) / (up + down);
        return new PeakEstimate(rise.At(at, riseDegree).Value, uncertainty, at, up, IsAtEnd: false, before - first + 1, first, riseDegree);
    }

    /// <summary>From the noise of the samples, and from all terms that were left out: beyond the last sample each of them counts.</summary>
    private static double Uncertainty(LocalPolynomial fit, double at, int degree, double noise) =>
        double.Hypot(noise * fit.At(at, degree).NoiseFactor, fit.Neglected(at, degree, LocalPolynomial.DegreeMax, noise));

    /// <summary>When a rise and a slide meet; null where they do not between two times.</summary>
    private static double? Meet(LocalPolynomial rise, LocalPolynomial slide, double from, double to, double guard, double noise)
    {
        int riseDegree = PeakEstimator.DegreeOf(rise, noise), slideDegree = PeakEstimator.DegreeOf(slide, noise);
        double Above(double time) => rise.At(time, riseDegree).Value - slide.At(time, slideDegree).Value;
        const int Halvings = 50;
        (double low, double high) = (from - guard, to + guard);
        if (Above(low) >= 0 || Above(high) <= 0) return null;
        for (int i = 0; i < Halvings; i++)
        {
            double middle = (low + high) / 2;
            if (Above(middle) < 0) low = middle;
            else high = middle;
        }

        return (low + high) / 2;
    }
}
