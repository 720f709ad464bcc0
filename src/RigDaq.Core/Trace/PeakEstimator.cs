using RigDaq.Core.Signal;

namespace RigDaq.Core.Trace;

/// <summary>A peak force as it is estimated from noisy samples.</summary>
/// <param name="Newtons">The estimate.</param>
/// <param name="StandardUncertaintyNewtons">From the noise of the samples alone.</param>
/// <param name="TimeSeconds">When it was.</param>
/// <param name="RateNewtonsPerSecond">The loading rate there: the slope at a sudden break, 0 at the top of a smooth maximum.</param>
/// <param name="IsAtEnd">Whether the force still rose at the last sample: the peak of a sudden break.</param>
/// <param name="Samples">How many samples the fit rests on.</param>
/// <param name="First">The first of them.</param>
/// <param name="Degree">The degree of the fit.</param>
public readonly record struct PeakEstimate(double Newtons, double StandardUncertaintyNewtons, double TimeSeconds,
    double RateNewtonsPerSecond, bool IsAtEnd, int Samples, int First, int Degree)
{
    /// <summary>The last sample that it rests on: the one before the drop where <see cref="IsAtEnd"/>.</summary>
    public int Last => First + Samples - 1;
}

/// <summary>
/// Estimates the greatest force with little of the noise's upward bias: a parabola through the widest window round the maximum (or up to
/// the last sample before a sudden fall) that the samples themselves allow, that is, in which neither the residuals nor a cubic or quartic
/// term stand out of the noise. A fit that the samples refuse is none: where none holds, the greatest sample stands.
/// </summary>
internal static class PeakEstimator
{
    // A cubic or quartic term beyond this many standard deviations says that the window is too wide.
    private const double TermDeviationsMax = 2;

    // Residual squares beyond their expectation by this many standard deviations say the same.
    private const double ResidualDeviationsMax = 3;

    // A window fails by chance now and then; one that is too wide fails by far, and a wider one still by more.
    private const double FarMisfit = 1.75;
    private const int FarFailuresMax = 2;

    // Before any window was accepted only such a misfit counts: a single sample of much noise at the top spoils narrow windows,
    // not wide ones, a drop spoils all.
    private const double HugeMisfit = 12;

    // At a corner the slope changes by so many times what it changes by two samples to either side; then no parabola fits.
    private const double CornerTimes = 4;
    private const double CornerNoises = 30;

    // A drop at the top is sudden where two intervals take the force down by so many of the steps that led up to it, and the two
    // after them by less than this share of that: what goes on falling alike is a slide.
    private const double DropSteps = 4;
    private const double DropNoises = 6;
    private const double DropGoesOnShare = 1.0 / 3;

    // The fewest samples of a fit, and by how much windows grow.
    private const int SamplesMin = 5;
    private const double Growth = 1.3;

    /// <summary>Estimates the peak.</summary>
    /// <param name="times">Of the despiked samples.</param>
    /// <param name="forces">Newtons above zero.</param>
    /// <param name="first">The first sample in contact.</param>
    /// <param name="last">The last sample before the fall, or of the trace.</param>
    /// <param name="sigma">The standard deviation of a sample's noise, 0 or more.</param>
    public static PeakEstimate Estimate(double[] times, double[] forces, int first, int last, double sigma)
    {
        int top = first;
        for (int i = first; i <= last; i++)
        {
            // Equal samples of a coarse converter stay equal whatever rounding does to them.
            if (forces[i] > forces[top] + (1e-9 * Math.Abs(forces[top]))) top = i;
        }

        // Noise-free data still has rounding.
        double noise = Math.Max(sigma, 1e-9 * Math.Abs(forces[top]));
        var raw = new PeakEstimate(forces[top], noise, times[top], RawRate(times, forces, first, top), top == last, 1, top, 0);
        if (last - first + 1 < SamplesMin) return raw;
        PeakEstimate? end = AtEnd(times, forces, first, last, noise);
        PeakEstimate? inside = top < last && DropsAt(forces, first, top, noise)
            ? AtEnd(times, forces, first, top, noise)
            : IsCorner(forces, first, last, top, noise)
                ? raw with
                {
                    IsAtEnd = false,
                    RateNewtonsPerSecond = AtEnd(times, forces, first, top, noise)?.RateNewtonsPerSecond ?? raw.RateNewtonsPerSecond
                }
                : Inside(times, forces, first, last, top, noise) ?? BesideAlone(times, forces, first, last, top, noise);
        PeakEstimate rest = inside ?? raw;
        return end is { } sudden && (top == last || sudden.Newtons >= rest.Newtons - (2 * noise)) ? sudden : rest;
    }

    /// <summary>Whether the force drops suddenly from its top, by a part of it, and is held again.</summary>
    private static bool DropsAt(double[] forces, int first, int top, double noise)
    {
        if (top - 2 < first || top + 2 >= forces.Length) return false;
        double drop = forces[top] - forces[top + 2];
        double step = Math.Max(0, (forces[top] - forces[top - 2]) / 2);
        double goesOn = top + 4 < forces.Length ? forces[top + 2] - forces[top + 4] : 0;
        return drop > (DropSteps * step) + (DropNoises * noise) && goesOn < DropGoesOnShare * drop;
    }

    /// <summary>The fit up to the last sample; null where the force does not rise there.</summary>
    private static PeakEstimate? AtEnd(double[] times, double[] forces, int first, int last, double noise)
    {
        var fit = new LocalPolynomial();
        if (last - first + 1 < SamplesMin) return null;
        int accepted = Widest(fit, times, forces, last, first, SamplesMin, noise);
        if (Misfit(fit, noise) > FarMisfit)
        {
            // No curve that noise alone is off goes through the last five: the last sample stands, and the step up to it.
            double step = StepsRate(times, forces, first, last);
            return step > 0 ? new PeakEstimate(forces[last], noise, times[last], step, true, 1, last, 0) : null;
        }

        int degree = DegreeOf(fit, noise);
        double slope = fit.SlopeAt(times[last], degree);
        if (slope <= 2 * noise * fit.SlopeNoiseFactorAt(times[last], degree)) return null;
        double value = fit.At(times[last], degree).Value;
        return new PeakEstimate(value, Uncertainty(fit, times[last], degree, noise), times[last], slope, true, accepted,
            last - accepted + 1, degree);
    }

    /// <summary>Fits the widest window from one sample towards another that the samples themselves allow.</summary>
    /// <param name="fit">Left with that window.</param>
    /// <param name="times">Of the despiked samples.</param>
    /// <param name="forces">Newtons above zero.</param>
    /// <param name="from">The sample that every window holds.</param>
    /// <param name="to">The farthest, before or after it.</param>
    /// <param name="samplesMin">The narrowest window, which is taken whatever it is like.</param>
    /// <param name="noise">The standard deviation of a sample's noise, above 0.</param>
    /// <returns>How many samples it holds.</returns>
    internal static int Widest(LocalPolynomial fit, double[] times, double[] forces, int from, int to, int samplesMin, double noise)
    {
        int Fit(int count)
        {
            fit.Fit(times, forces, to < from ? from - count + 1 : from, to < from ? from : from + count - 1);
            return count;
        }

        int accepted = samplesMin;
        int farFailures = 0;
        for (int count = samplesMin; count <= Math.Abs(to - from) + 1 && farFailures < FarFailuresMax; count = Next(count))
        {
            Fit(count);
            double misfit = Misfit(fit, noise);
            if (misfit <= 1) accepted = count;
            farFailures = misfit > FarMisfit ? farFailures + 1 : 0;
        }

        return Fit(accepted);
    }

    /// <summary>A parabola where the bend stands out of the noise or the window is wide enough to tell it well, else a line.</summary>
    internal static int DegreeOf(LocalPolynomial fit, double noise) =>
        fit.Degree >= 2 && (Math.Abs(fit.Significance(2, noise)) > TermDeviationsMax || fit.Count > 40) ? 2 : 1;

    /// <summary>Where the greatest sample stands alone, by less than would make a spike of it, noise with long tails lifted it: the fit
    /// without it.</summary>
    private static PeakEstimate? BesideAlone(double[] times, double[] forces, int first, int last, int top, double noise)
    {
        if (top == first || top == last) return null;
        double between = (forces[top - 1] + forces[top + 1]) / 2;
        if (forces[top] - between > Despiker.DepartureNoises * noise) return null;
        double[] without = [.. forces];
        without[top] = between;
        if (Inside(times, without, first, last, top, noise) is not { } fit) return null;

        // Or it was a force that was there: anything up to it, with nothing to tell which (JCGM 100, 4.3.7).
        double higher = Math.Max(0, forces[top] - fit.Newtons);
        return fit with { StandardUncertaintyNewtons = double.Hypot(fit.StandardUncertaintyNewtons, higher / Math.Sqrt(3)) };
    }

    private static PeakEstimate? Inside(double[] times, double[] forces, int first, int last, int top, double noise)
    {
        var fit = new LocalPolynomial();
        int centre = top;
        PeakEstimate? best = null;
        int half = 2;
        int farFailures = 0;
        while (true)
        {
            int from = Math.Max(first, centre - half);
            int to = Math.Min(last, centre + half);
            if (to - from + 1 < SamplesMin) (from, to) = (Math.Max(first, to - SamplesMin + 1), Math.Min(last, from + SamplesMin - 1));
            fit.Fit(times, forces, from, to);
            double misfit = Misfit(fit, noise);
            farFailures = misfit > (best is null ? HugeMisfit : FarMisfit) ? farFailures + 1 : 0;
            if (misfit > (best is null && half == 2 ? FarMisfit : 1))
            {
                if (farFailures == FarFailuresMax || (from == first && to == last)) break;
                half = Next(half);
                continue;
            }

            double at = Math.Clamp(fit.Vertex() ?? times[top], times[from], times[to]);
            double value = fit.At(at, 2).Value;
            value -= VertexBias(fit, at, noise);
            best = new PeakEstimate(value, double.Hypot(noise * fit.At(at, 2).NoiseFactor, fit.NeglectedSeen(at, 2)), at,
                fit.Vertex() == at ? 0 : Math.Max(0, fit.SlopeAt(at, 2)), at >= times[last], fit.Count, from, 2);
            while (centre < to && times[centre] < at) centre++;
            while (centre > from && times[centre] > at) centre--;
            if (from == first && to == last) break;
            half = Next(half);
        }

        return best;
    }

    /// <summary>From the noise of the samples, and from the terms that were left out because they did not stand out of it: the next one for
    /// a line, the two next for a parabola round a top, where a cubic vanishes in the middle.</summary>
    internal static double Uncertainty(LocalPolynomial fit, double at, int degree, double noise) =>
        double.Hypot(noise * fit.At(at, degree).NoiseFactor, fit.Neglected(at, degree, degree == 1 ? 2 : LocalPolynomial.DegreeMax, noise));

    /// <summary>By how much the top of a fitted parabola stands too high on average: the noise of the slope s at the true top moves the
    /// fitted one there and up by s²/(2|f″|).</summary>
    private static double VertexBias(LocalPolynomial fit, double at, double noise)
    {
        if (fit.Vertex() is not { } vertex || vertex != at) return 0;
        double slope = noise * fit.SlopeNoiseFactorAt(at, 2);
        double bias = slope * slope / (2 * Math.Abs(fit.Curvature));

        // Where the bend itself is lost in the noise the formula runs away.
        return Math.Min(bias, noise * fit.At(at, 2).NoiseFactor / 2);
    }

    /// <summary>Whether the top is a corner that stands out of the noise: the greatest sample is then nearer the truth than any
    /// fit.</summary>
    private static bool IsCorner(double[] forces, int first, int last, int top, double noise)
    {
        if (top - 3 < first || top + 3 > last) return false;
        double Bend(int at) => Math.Abs(forces[at - 1] - (2 * forces[at]) + forces[at + 1]);
        double here = Bend(top) + Math.Max(Bend(top - 1), Bend(top + 1));
        return here > (CornerTimes * (Bend(top - 2) + Bend(top + 2))) + (CornerNoises * noise);
    }

    /// <summary>How badly a parabola fits, in units of what is allowed: 1 is the limit.</summary>
    internal static double Misfit(LocalPolynomial fit, double noise)
    {
        int freedom = fit.Count - 3;
        if (freedom < 1) return 0;
        double excess = (fit.ResidualSquares / (noise * noise)) - freedom;
        double residuals = excess / (ResidualDeviationsMax * Math.Sqrt(2.0 * freedom));
        double terms = Math.Max(Math.Abs(fit.Significance(3, noise)), Math.Abs(fit.Significance(4, noise))) / TermDeviationsMax;
        return Math.Max(residuals, terms);
    }

    private static int Next(int count) => Math.Max(count + 1, (int)(Growth * count));

    /// <summary>The rate of the last steps before a sample: of the middle one of three, so that none of them spoils it.</summary>
    private static double StepsRate(double[] times, double[] forces, int first, int last)
    {
        int count = Math.Min(3, last - first);
        Span<double> rates = stackalloc double[3];
        for (int i = 0; i < count; i++)
            rates[i] = (forces[last - i] - forces[last - i - 1]) / Math.Max(times[last - i] - times[last - i - 1], double.Epsilon);

        return count > 0 ? Math.Max(0, Median.Of(rates[..count])) : 0;
    }

    private static double RawRate(double[] times, double[] forces, int first, int top)
    {
        int before = Math.Max(first, top - 1);
        double interval = times[top] - times[before];
        return interval > 0 ? Math.Max(0, (forces[top] - forces[before]) / interval) : 0;
    }
}
