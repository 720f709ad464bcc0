using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Trace;

/// <summary>
/// What uncertain stamps do to a reading. A stamp that is off by u while the force rises at a rate b is a force that is off by b·u
/// (JCGM 100, 5.1.2): noise that the fit at the peak has to expect, and that goes from there into the peak's uncertainty. A straight
/// line through n samples, T apart, has a slope that is uncertain by b·u·√12/(T·√(n³ − n)): the usual figure of a least-squares line with
/// evenly spaced points (Draper and Smith, Applied Regression Analysis, 1.4; from memory). Where the fit has a bend as well, the slope at
/// its end is less certain by the bend's share, 180(n − 1)²/(n(n² − 1)(n² − 4)) under the root beside 12/(n³ − n): the second orthogonal
/// polynomial of evenly spaced points, x² − (n² − 1)/12, has that norm, and the slope n − 1 at the end.
/// </summary>
public static class StampJitter
{
    /// <summary>A rate that is less certain than this is warned about, in per cent.</summary>
    public const double RatePercentMax = 5;

    /// <summary>A fit at the peak that rests on more samples always has a bend.</summary>
    private const int LineSamplesMax = 40;

    /// <summary>The noise that a fit to the loading has to expect: the force's own, and what stamps that are off do to it at the mean rate.
    /// A fit that expects less takes the stamps' scatter for bends, and reads its rate from too few samples.</summary>
    internal static double Noise(LoadedTrace trace, double noise, int last)
    {
        double duration = trace.Times[last] - trace.Times[trace.Contact];
        double rise = trace.Forces[last] - trace.Forces[trace.Contact];
        return duration > 0 ? double.Hypot(noise, trace.Given.StampStandardUncertaintySeconds * rise / duration) : noise;
    }

    /// <summary>Counts the stamps' uncertainty into the loading rate.</summary>
    /// <param name="reading">The reading, whose peak was fitted with <see cref="Noise"/>: the peak's uncertainty holds the stamps' share
    /// already.</param>
    /// <param name="stampSeconds">The standard uncertainty of a stamp in seconds; 0 changes nothing.</param>
    /// <param name="intervalSeconds">Between two samples.</param>
    public static TraceReading Count(TraceReading reading, double stampSeconds, double intervalSeconds)
    {
        bool hasJitter = stampSeconds > 0 && double.IsFinite(stampSeconds) && intervalSeconds > 0;
        if (!hasJitter || reading.LoadingRateNewtonsPerSecond is not { } rate || reading.PeakForceNewtons is null) return reading;
        double n = Math.Max(2, reading.PeakSamples ?? 2);
        double ofLine = 12 / ((n * n * n) - n);
        double ofBend = n > LineSamplesMax ? 180 * (n - 1) * (n - 1) / (n * ((n * n) - 1) * ((n * n) - 4)) : 0;
        double share = stampSeconds / intervalSeconds * Math.Sqrt(ofLine + ofBend);
        var warnings = new List<Sentence>(reading.Warnings);
        if (100 * share > RatePercentMax) warnings.Add(CoreText.StampsUncertain(1000 * stampSeconds, 100 * share));
        return reading with
        {
            LoadingRateStandardUncertaintyNewtonsPerSecond = rate * share,
            Warnings = warnings,
        };
    }
}
