using RigDaq.Core.Signal;

namespace RigDaq.Core.Trace;

/// <summary>
/// What a peak's standard uncertainty is made of (JCGM 100, 5.1.2: independent parts add in squares): the fit's own, the unseen
/// end of a sudden break's last interval, a corner between two samples, the zero, the step of the values, and for how few
/// conversions the noise is known from.
/// </summary>
internal static class PeakUncertainty
{
    // A fit over more samples than this has been seen to bend, not to break: no corner hides in it.
    private const int CornerSamplesMax = 9;

    /// <summary>The sum.</summary>
    /// <param name="fitNewtons">From the fit.</param>
    /// <param name="phaseNewtons">The rise in the last interval before a sudden break; its unknown share is rectangular: over √12.</param>
    /// <param name="cornerNewtons">By how much a corner can have stood above; rectangular from 0: rms over √3.</param>
    /// <param name="zeroNewtons">The zero's standard uncertainty.</param>
    /// <param name="stepNewtons">What the step that values come in leaves at the peak and at the zero, see <see cref="Step"/>.</param>
    /// <param name="noiseSamples">How many conversions the noise was seen in; 0 where that is not known, or many.</param>
    public static double Of(double fitNewtons, double phaseNewtons, double cornerNewtons, double zeroNewtons, double stepNewtons,
        int noiseSamples)
    {
        double few = SmallSample.StudentFactor(noiseSamples);
        return Math.Sqrt((few * few * ((fitNewtons * fitNewtons) + (zeroNewtons * zeroNewtons)))
            + (stepNewtons * stepNewtons) + (phaseNewtons * phaseNewtons / 12) + (cornerNewtons * cornerNewtons / 3));
    }

    /// <summary>
    /// What the step of the values leaves in a value that stands: step²/12, less where its noise s dithers it, by
    /// exp(−4π²s²/step²), the first line of a rounded mean's error (Widrow and Kollár, Quantization Noise, ch. 4; from memory). It
    /// is a bound, rectangular over half a step to either side.
    /// </summary>
    /// <param name="step">The step, 0 where there is none.</param>
    /// <param name="noise">The standard deviation of samples, rounding in it.</param>
    public static double Step(double step, double noise)
    {
        if (!(step > 0)) return 0;

        // Sheppard's correction: what the noise is without the rounding.
        double own = Math.Max(0, (noise * noise) - (step * step / 12));
        return step * Math.Sqrt(Math.Exp(-4 * Math.PI * Math.PI * own / (step * step)) / 12);
    }

    /// <summary>
    /// What a fit leaves of it that passes k steps, each of which it sees rounded another way: its longest stretch between two steps is the
    /// flat one at the top, about 1/√k of the window. Made ones (parabolas round a top or up to an end, 9 to 100 samples, k of 1 to 30) are
    /// off by 0.7/√k of a value that stands at a top, and by 1.3 to 2.1 times 1/√k at an end, where a parabola is freer.
    /// </summary>
    public static double Dithered(double[] forces, PeakEstimate peak, double step)
    {
        const double AtEndTimes = 1.5;
        if (!(step > 0)) return 1;
        ReadOnlySpan<double> window = forces.AsSpan(peak.First, peak.Samples);
        double least = double.PositiveInfinity, greatest = double.NegativeInfinity;
        foreach (double force in window) (least, greatest) = (Math.Min(least, force), Math.Max(greatest, force));
        double passed = Math.Max(1, (greatest - least) / step);
        return Math.Min(1, (peak.IsAtEnd && peak.Degree == 2 ? AtEndTimes : 1) / Math.Sqrt(passed));
    }

    /// <summary>By how much the force can have been higher between two samples where it turns at a corner: two lines of slopes r₁ up and r₂
    /// down that meet within an interval Δt stand at most r₁·r₂/(r₁ + r₂)·Δt above the higher sample.</summary>
    /// <param name="trace">The samples.</param>
    /// <param name="last">The last sample before the fall.</param>
    /// <param name="peak">The estimate.</param>
    public static double Corner(LoadedTrace trace, int last, PeakEstimate peak)
    {
        (double[] times, double[] forces, int contact) = (trace.Times, trace.Forces, trace.Contact);
        if (!peak.IsAtEnd && peak.Samples > CornerSamplesMax) return 0;
        int top = Math.Min(peak.Last, last);
        if (!peak.IsAtEnd)
        {
            top = Array.BinarySearch(times, peak.TimeSeconds);
            if (top < 0) top = ~top;
            top = Math.Clamp(top, contact, last);
            if (top > contact && forces[top - 1] > forces[top]) top--;
        }

        if (top - 3 < contact || top + 3 >= forces.Length) return 0;

        // The step beside the top may hold the corner itself: the one farther out is looked at, too.
        double up = peak.IsAtEnd ? peak.RateNewtonsPerSecond
            : Math.Max(Slope(times, forces, top - 2, top), Slope(times, forces, top - 3, top - 1));
        double down = -Math.Min(Slope(times, forces, top, top + 2), Slope(times, forces, top + 1, top + 3));
        return up > 0 && down > 0 ? up * down / (up + down) * trace.IntervalSeconds : 0;
    }

    /// <summary>What waves in the loading leave in the peak and in the zero (JCGM 100, 5.1.2).</summary>
    /// <param name="trace">The samples.</param>
    /// <param name="from">The first sample of the loading that is one smooth curve.</param>
    /// <param name="last">The last sample before the fall.</param>
    /// <param name="peak">The estimate.</param>
    public static double Ripple(LoadedTrace trace, int from, int last, PeakEstimate peak)
    {
        double zeroSeconds = trace.ZeroSamples * trace.IntervalSeconds;
        double squares = 0;
        foreach (RippleLine line in Trace.Ripple.Find(trace.Times, trace.Forces, from, last))
        {
            double inPeak = line.InFit(trace.Times, peak.First, peak.First + peak.Samples - 1, peak.Degree, peak.TimeSeconds);
            double inZero = zeroSeconds > 0 ? line.InMean(zeroSeconds) : 0;
            squares += (inPeak * inPeak) + (inZero * inZero);
        }

        return Math.Sqrt(squares);
    }

    private static double Slope(double[] times, double[] forces, int from, int to) =>
        (forces[to] - forces[from]) / Math.Max(times[to] - times[from], double.Epsilon);
}
