using MathNet.Numerics.Distributions;

namespace RigDaq.Core.Calibration.Quality;

/// <summary>Effective degrees of freedom and what they make of a standard uncertainty (JCGM 100:2008, annex G).</summary>
public static class EffectiveFreedom
{
    // Beyond this t and the normal distribution differ by less than 1e-5 in k.
    private const double Plenty = 1e6;

    /// <summary>Welch-Satterthwaite, G.2b: u⁴/Σ(uᵢ⁴/νᵢ); infinite where no part has a finite number.</summary>
    /// <param name="standard">The combined standard uncertainty.</param>
    /// <param name="parts">Each part's standard uncertainty and degrees of freedom, null for infinitely many.</param>
    public static double Of(double standard, IEnumerable<(double Standard, double? DegreesOfFreedom)> parts)
    {
        double sum = 0;
        foreach (var (part, freedom) in parts)
        {
            if (freedom is { } finite && part > 0) sum += Math.Pow(part, 4) / finite;
        }

        double effective = sum > 0 ? Math.Pow(standard, 4) / sum : double.PositiveInfinity;
        return effective > Plenty ? double.PositiveInfinity : effective;
    }

    /// <summary>The factor k = t_p(ν); degrees of freedom need not be whole (G.4.1, note 1).</summary>
    /// <param name="degreesOfFreedom">Above 0; infinite for the normal distribution.</param>
    /// <param name="coverage">0.95 for 95 %.</param>
    public static double CoverageFactor(double degreesOfFreedom, double coverage)
    {
        double quantile = (1 + coverage) / 2;
        return double.IsPositiveInfinity(degreesOfFreedom) ? Normal.InvCDF(0, 1, quantile)
            : StudentT.InvCDF(0, 1, degreesOfFreedom, quantile);
    }
}
