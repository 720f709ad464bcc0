using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Signal;

/// <summary>Whether a window of samples is still enough for a zero or a reading.</summary>
/// <param name="IsStill">Whether it is.</param>
/// <param name="Mean">The mean of its samples.</param>
/// <param name="Deviation">Their standard deviation about a line.</param>
/// <param name="SlopePerSecond">The line's slope.</param>
/// <param name="Reason">What moves, in words; empty where nothing does.</param>
public readonly record struct Stillness(bool IsStill, double Mean, double Deviation, double SlopePerSecond, Sentence Reason);

/// <summary>
/// Judges stillness by limits that come from the noise seen at calibration: the spread about a line may be half as much again
/// as that noise and what a sample of this size scatters; the change over the window may be what noise alone shows, or a small
/// fixed share of the noise for long windows.
/// </summary>
public static class StillWindow
{
    /// <summary>The fewest samples that can be judged.</summary>
    public const int SamplesMin = 5;

    // About three standard errors: one window in some hundreds is refused for nothing.
    private const double ErrorsMax = 3;

    /// <summary>Judges a window.</summary>
    /// <param name="times">In seconds, never falling.</param>
    /// <param name="values">In counts or newtons.</param>
    /// <param name="noise">The standard deviation seen while nothing moved, in the same unit; 0 where unknown: then only the slope is
    /// judged.</param>
    /// <returns>Not still, with the reason, where there are too few samples.</returns>
    public static Stillness Judge(ReadOnlySpan<double> times, ReadOnlySpan<double> values, double noise)
    {
        int n = Math.Min(times.Length, values.Length);
        (double mean, double deviation) = NoiseEstimate.Of(values[..n]);
        if (n < SamplesMin) return new Stillness(false, mean, deviation, 0, CoreText.TooFewSamplesForStill(n, SamplesMin));
        double centre = NoiseEstimate.Of(times[..n]).Mean;
        double spread = 0, product = 0;
        for (int i = 0; i < n; i++)
        {
            spread += (times[i] - centre) * (times[i] - centre);
            product += (times[i] - centre) * (values[i] - mean);
        }

        double slope = spread > 0 ? product / spread : 0;
        double squares = 0;
        for (int i = 0; i < n; i++)
        {
            double residual = values[i] - mean - (slope * (times[i] - centre));
            squares += residual * residual;
        }

        double about = Math.Sqrt(squares / (n - 2));
        if (!double.IsFinite(about)) return new Stillness(false, mean, deviation, slope, CoreText.ValueNotANumber);
        double usual = noise > 0 ? noise : about;
        double change = Math.Abs(slope) * (times[n - 1] - times[0]);
        double changeMax = Math.Max(usual / 2, ErrorsMax * usual * Math.Sqrt(12.0 / n));
        double aboutMax = 1.5 * usual * (1 + (ErrorsMax / Math.Sqrt(2.0 * (n - 2))));
        Sentence reason = about > aboutMax ? CoreText.ScattersTooMuch(about, aboutMax)
            : change > changeMax ? CoreText.MovesTooMuch(change, changeMax) : Sentence.None;
        return new Stillness(reason.IsEmpty, mean, about, slope, reason);
    }
}
