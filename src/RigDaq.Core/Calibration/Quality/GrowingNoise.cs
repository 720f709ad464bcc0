using MathNet.Numerics.Distributions;
using RigDaq.Core.Calibration.Fitting;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>
/// Noise that grows with the force: a worn supply, a reference that is not taken with the signal, a load train that sings. What one sample
/// under load scatters by is shown by windows under load, and by nothing else: the means of readings scatter by hanging anew, too, and
/// nobody says of how many samples a mean was made.
/// </summary>
internal static class GrowingNoise
{
    /// <summary>Windows under load that are needed.</summary>
    private const int WindowsMin = 3;

    /// <summary>The level at which the windows are said to speak for growth.</summary>
    private const double Alpha = 0.05;

    private const int Rounds = 5;

    // No variance is taken for less than this share of the mean: its weight would be all.
    private const double LeastShare = 1e-3;

    /// <summary>The variance of one sample is σ₀² + (b·F)², b found by weighted least squares of the windows' variances on F².</summary>
    /// <param name="readings">The readings.</param>
    /// <returns>b in counts per newton and its degrees of freedom; null where the windows do not prefer it, or there are too few.</returns>
    public static (double CountsPerNewton, double Freedom)? Of(IReadOnlyList<CalibrationReading> readings) =>
        Of(readings, reading => reading.NoiseCounts) ?? Of(readings, reading => reading.FluctuationCounts / StepReader.RangeOfWindow);

    private static (double CountsPerNewton, double Freedom)? Of(IReadOnlyList<CalibrationReading> readings,
        Func<CalibrationReading, double?> deviation)
    {
        var windows = readings
            .Select(reading => (Square: Math.Pow(reading.Reference.Newtons, 2), Variance: Math.Pow(deviation(reading) ?? double.NaN, 2)))
            .Where(window => double.IsFinite(window.Variance)).ToList();
        double mean = windows.Select(window => window.Variance).DefaultIfEmpty(0).Average();
        int loaded = windows.Count(window => window.Square > 0);
        if (loaded < WindowsMin || loaded == windows.Count || !(mean > 0)) return null;
        double still = mean, growth = 0, error = 0;
        for (int round = 0; round < Rounds; round++)
        {
            double weights = 0, x = 0, y = 0, xx = 0, xy = 0;
            foreach (var (square, variance) in windows)
            {
                double weight = 1 / Math.Pow(Math.Max(LeastShare * mean, still + (growth * square)), 2);
                (weights, x, y) = (weights + weight, x + (weight * square), y + (weight * variance));
                (xx, xy) = (xx + (weight * square * square), xy + (weight * square * variance));
            }

            double spread = xx - (x * x / weights);
            if (!(spread > 0)) return null;
            growth = (xy - (x * y / weights)) / spread;
            double at = (y - (growth * x)) / weights;
            double chi = windows.Sum(window => Math.Pow((window.Variance - at - (growth * window.Square))
                / Math.Max(LeastShare * mean, still + (growth * window.Square)), 2));
            still = at;

            // A variance of ν degrees of freedom has the relative variance 2/ν; more where the windows differ by more.
            error = Math.Sqrt(Math.Max(2 / StepReader.FreedomOfWindow, chi / (windows.Count - 2)) / spread);
        }

        double t = growth / error;
        return t > StudentT.InvCDF(0, 1, windows.Count - 2, 1 - Alpha) ? (Math.Sqrt(growth), 2 * t * t) : null;
    }
}
