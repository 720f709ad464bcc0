using MathNet.Numerics.Distributions;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>
/// The half-width that holds a share of what may be, where the sum of an error's parts is not normal: one bound may dominate, and a known
/// part may stand uncorrected (JCGM 101:2008, 5.1 and 7: the coverage interval is read off the distribution; JCGM 100, F.2.4.5 for what is
/// known and not corrected).
/// </summary>
public static class CoverageInterval
{
    private const int HalvingsMax = 80;

    /// <summary>The half-width h with P(|known + R + N| ≤ h) = coverage, R rectangular within ± <paramref name="bound"/>, N
    /// normal.</summary>
    /// <param name="known">A known part that is not corrected, either sign.</param>
    /// <param name="bound">The half-width of the rectangular part, 0 or above.</param>
    /// <param name="standard">The standard deviation of the normal part, 0 or above.</param>
    /// <param name="coverage">0.95 for 95 %.</param>
    public static double HalfWidth(double known, double bound, double standard, double coverage)
    {
        double low = 0, high = Math.Abs(known) + bound + (10 * standard);
        for (int i = 0; i < HalvingsMax && high - low > 1e-12 * high; i++)
        {
            double middle = (low + high) / 2;
            double held = Below(middle - known, bound, standard) - Below(-middle - known, bound, standard);
            if (held < coverage) low = middle;
            else high = middle;
        }

        return high;
    }

    // P(R + N ≤ y): the normal integral averaged over the rectangle, (u/2a)·(G((y + a)/u) − G((y − a)/u)) with G(z) = z·Φ(z) + φ(z).
    private static double Below(double y, double bound, double standard)
    {
        if (standard <= 1e-9 * bound) return Math.Clamp(bound > 0 ? (y + bound) / (2 * bound) : y >= 0 ? 1 : 0, 0, 1);
        if (bound <= 1e-6 * standard) return Normal.CDF(0, standard, y);
        return standard / (2 * bound) * (G((y + bound) / standard) - G((y - bound) / standard));
    }

    private static double G(double z) => (z * Normal.CDF(0, 1, z)) + Normal.PDF(0, 1, z);
}
