namespace RigDaq.Core.Strength;

/// <summary>
/// What uncertain stamps do to a reading. A stamp that is off by u while the force rises at a rate b is a force that is off by b·u
/// (JCGM 100, 5.1.2), so that a straight line through n samples, T apart, has a slope that is uncertain by b·u·√12/(T·√(n³ − n)) and
/// an end by b·u·√((4n − 2)/(n(n + 1))): the usual figures of a least-squares line with evenly spaced points (Draper and Smith,
/// Applied Regression Analysis, 1.4; from memory).
/// </summary>
public static class StampJitter
{
    /// <summary>A rate that is less certain than this is warned about, in per cent.</summary>
    public const double RatePercentMax = 5;

    /// <summary>Counts the stamps' uncertainty in.</summary>
    /// <param name="reading">The reading without it.</param>
    /// <param name="stampSeconds">The standard uncertainty of a stamp in seconds; 0 changes nothing.</param>
    /// <param name="intervalSeconds">Between two samples.</param>
    public static TraceReading Count(TraceReading reading, double stampSeconds, double intervalSeconds)
    {
        bool known = stampSeconds > 0 && double.IsFinite(stampSeconds) && intervalSeconds > 0;
        if (!known || reading.LoadingRateNewtonsPerSecond is not { } rate || reading.PeakForceNewtons is null) return reading;
        double n = Math.Max(2, reading.PeakSamples ?? 2);
        double share = stampSeconds * Math.Sqrt(12) / (intervalSeconds * Math.Sqrt((n * n * n) - n));
        double peak = rate * stampSeconds * Math.Sqrt(((4 * n) - 2) / (n * (n + 1)));
        double before = reading.PeakForceStandardUncertaintyNewtons ?? 0;
        var warnings = new List<string>(reading.Warnings);
        if (100 * share > RatePercentMax)
        {
            warnings.Add(FormattableString.Invariant(
                $"Stamps are known to {1000 * stampSeconds:G2} ms only: the loading rate is uncertain by {100 * share:F0} % (standard uncertainty)."));
        }

        return reading with
        {
            LoadingRateStandardUncertaintyNewtonsPerSecond = rate * share,
            PeakForceStandardUncertaintyNewtons = Math.Sqrt((before * before) + (peak * peak)),
            Warnings = warnings,
        };
    }
}
