using RigDaq.Core.Signal;

namespace RigDaq.Core.Trace;

/// <summary>A wave that rides on a pull: hum of the mains, folded down by slow sampling, or the ripple of a motor and its screw.</summary>
/// <param name="Hertz">As it is seen in the samples.</param>
/// <param name="AmplitudeNewtons">Half of what it goes up and down.</param>
internal readonly record struct RippleLine(double Hertz, double AmplitudeNewtons)
{
    /// <summary>The standard uncertainty that it leaves in a value that was read at a time from a polynomial through a window: what the
    /// same fit makes of a wave of this frequency, at any phase (rms over phases: over √2).</summary>
    public double InFit(double[] times, int first, int last, int degree, double at)
    {
        if (last <= first) return AmplitudeNewtons / Math.Sqrt(2);
        double hertz = Hertz;
        double Passed(Func<double, double> wave)
        {
            var fit = new LocalPolynomial();
            double[] window = times[first..(last + 1)];
            fit.Fit(window, [.. window.Select(time => wave(2 * Math.PI * hertz * (time - at)))], 0, window.Length - 1);
            return fit.At(at, degree).Value;
        }

        return AmplitudeNewtons * double.Hypot(Passed(Math.Cos), Passed(Math.Sin)) / Math.Sqrt(2);
    }

    /// <summary>The same in the mean of a window that lasts so long: at most 1/(π·f·T) of it.</summary>
    public double InMean(double seconds) =>
        AmplitudeNewtons / Math.Sqrt(2) * Math.Min(1, 1 / (Math.PI * Hertz * Math.Max(seconds, double.Epsilon)));
}

/// <summary>
/// Finds such waves in a loading: what a smooth curve leaves is searched for lines that stand out of the other frequencies and keep
/// amplitude and phase from one third to the next. A wave with fewer than <see cref="PeriodsMin"/> periods cannot be told from the
/// specimen's own curve.
/// </summary>
internal static class Ripple
{
    /// <summary>The fewest periods in the loading.</summary>
    public const double PeriodsMin = 4;

    private const int SamplesMin = 48;
    private const int BlocksMax = 256;
    private const int LinesMax = 3;

    // The smooth curve: a polynomial of this degree bends less than three times up and down.
    private const int CurveDegree = 6;

    // A wild residual (a load drop) counts as no more than so many deviations.
    private const double ClipDeviations = 4;

    // White noise reaches so many times the median amplitude of all frequencies once in some hundred loadings.
    private const double StandsOut = 4;

    // From part to part; what a curve leaves of a polynomial comes and goes.
    private const int Parts = 3;
    private const double AmplitudeTimes = 1.8;
    private const double PhaseMax = Math.PI / 4;

    /// <summary>Finds them, the greatest first.</summary>
    /// <param name="times">Of the despiked samples.</param>
    /// <param name="forces">Newtons above zero.</param>
    /// <param name="first">Where the loading begins.</param>
    /// <param name="last">Where it ends, with it.</param>
    public static IReadOnlyList<RippleLine> Find(double[] times, double[] forces, int first, int last)
    {
        int n = last - first + 1;
        double span = n > 1 ? times[last] - times[first] : 0;
        if (n < SamplesMin || !(span > 0)) return [];

        // Blocks of one size, the earliest samples left out: uneven ones would fold the rise itself into a wave.
        int size = (n + BlocksMax - 1) / BlocksMax;
        int blocks = n / size;
        double[] residuals = Residuals(forces, last + 1 - (blocks * size), size, blocks);
        Clip(residuals);
        double seconds = span / (n - 1) * blocks * size;
        var lines = new List<RippleLine>();
        while (lines.Count < LinesMax && Strongest(residuals) is { } wave)
        {
            // Means of blocks show less of a wave than there is.
            double turn = Math.PI * wave.Periods / blocks / size;
            lines.Add(new RippleLine(wave.Periods / seconds, wave.Amplitude * size * Math.Sin(turn) / Math.Sin(size * turn)));
            for (int i = 0; i < blocks; i++) residuals[i] -= wave.At(i, blocks);
        }

        return lines;
    }

    private static Wave? Strongest(double[] residuals)
    {
        int blocks = residuals.Length;
        var amplitudes = new List<double>(blocks);
        Wave best = default;
        for (double periods = PeriodsMin; periods <= blocks / 2.0; periods += 0.5)
        {
            var wave = Wave.Of(residuals, 0, blocks, periods);
            amplitudes.Add(wave.Amplitude);
            if (wave.Amplitude > best.Amplitude) best = wave;
        }

        if (amplitudes.Count < 8 || !(best.Amplitude > StandsOut * Median.Of(amplitudes.ToArray()))) return null;
        var parts = new Wave[Parts];
        for (int k = 0; k < Parts; k++) parts[k] = Wave.Of(residuals, k * blocks / Parts, (k + 1) * blocks / Parts, best.Periods);
        bool steady = parts.Max(part => part.Amplitude) < AmplitudeTimes * parts.Min(part => part.Amplitude)
            && parts.All(part => Math.Abs(Math.IEEERemainder(part.Phase - best.Phase, 2 * Math.PI)) < PhaseMax);
        return steady ? best : null;
    }

    /// <summary>Means of blocks of samples less a polynomial, by the recurrence of orthogonal polynomials (Forsythe 1957).</summary>
    private static double[] Residuals(double[] forces, int first, int size, int blocks)
    {
        var residuals = new double[blocks];
        for (int b = 0; b < blocks; b++) residuals[b] = NoiseEstimate.Of(forces.AsSpan(first + (b * size), size)).Mean;
        var before = new double[blocks];
        var now = new double[blocks];
        Array.Fill(now, 1);
        double normBefore = 1;
        for (int degree = 0; degree <= CurveDegree; degree++)
        {
            double norm = 0, product = 0, shift = 0;
            for (int i = 0; i < blocks; i++)
            {
                double x = X(i, blocks);
                norm += now[i] * now[i];
                product += now[i] * residuals[i];
                shift += x * now[i] * now[i];
            }

            for (int i = 0; i < blocks; i++)
            {
                residuals[i] -= product / norm * now[i];
                double next = ((X(i, blocks) - (shift / norm)) * now[i]) - (degree == 0 ? 0 : norm / normBefore * before[i]);
                (before[i], now[i]) = (now[i], next);
            }

            normBefore = norm;
        }

        return residuals;
    }

    private static double X(int i, int blocks) => (2.0 * i / (blocks - 1)) - 1;

    private static void Clip(double[] residuals)
    {
        double limit = ClipDeviations * Median.SigmaOf(residuals);
        for (int i = 0; i < residuals.Length; i++) residuals[i] = Math.Clamp(residuals[i], -limit, limit);
    }

    /// <summary>A wave of so many periods in the whole.</summary>
    private readonly record struct Wave(double Periods, double Cosine, double Sine)
    {
        public double Amplitude => double.Hypot(Cosine, Sine);

        public double Phase => Math.Atan2(Sine, Cosine);

        public double At(int i, int blocks)
        {
            (double sine, double cosine) = Math.SinCos(2 * Math.PI * Periods * i / blocks);
            return (Cosine * cosine) + (Sine * sine);
        }

        public static Wave Of(double[] values, int from, int to, double periods)
        {
            (double stepSine, double stepCosine) = Math.SinCos(2 * Math.PI * periods / values.Length);
            (double s, double c) = Math.SinCos(2 * Math.PI * periods * from / values.Length);
            double cosine = 0, sine = 0;
            for (int i = from; i < to; i++)
            {
                cosine += values[i] * c;
                sine += values[i] * s;
                (c, s) = ((c * stepCosine) - (s * stepSine), (s * stepCosine) + (c * stepSine));
            }

            return new Wave(periods, 2 * cosine / (to - from), 2 * sine / (to - from));
        }
    }
}
