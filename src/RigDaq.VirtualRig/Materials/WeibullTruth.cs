using MathNet.Numerics;

namespace RigDaq.Virtual.Materials;

/// <summary>A two-parameter Weibull distribution given by its mean and its modulus: mean = scale·Γ(1 + 1/k) (NIST/SEMATECH e-Handbook of
/// Statistical Methods, 1.3.6.6.8).</summary>
internal static class WeibullTruth
{
    /// <summary>The scale (characteristic strength) that has this mean.</summary>
    public static double Scale(double mean, double modulus) => mean / SpecialFunctions.Gamma(1 + (1 / modulus));

    /// <summary>The quantile at a probability above 0 and below 1: scale·(−ln(1 − p))^(1/k).</summary>
    public static double Quantile(double probability, double mean, double modulus) =>
        Scale(mean, modulus) * Math.Pow(-Math.Log(1 - probability), 1 / modulus);
}
