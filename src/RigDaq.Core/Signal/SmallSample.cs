using MathNet.Numerics.Distributions;

namespace RigDaq.Core.Signal;

/// <summary>A standard deviation from few values can be far too small: of five, one in ten comes out below half of the true one (the
/// chi-square distribution of n − 1 degrees of freedom). What is made of it is widened accordingly.</summary>
internal static class SmallSample
{
    /// <summary>From so many values on a standard deviation is taken as it is: it is off by some 13 % then.</summary>
    public const int Telling = 30;

    private const double Confidence = 0.95;
    private static readonly double[] Student = [.. Enumerable.Range(0, Telling)
        .Select(n => n < 2 ? 1 : StudentT.InvCDF(0, 1, n - 1, (1 + Confidence) / 2) / Normal.InvCDF(0, 1, (1 + Confidence) / 2))];

    private static readonly double[] Upper =
        [.. Enumerable.Range(0, Telling).Select(n => n < 2 ? 1 : Math.Sqrt((n - 1) / ChiSquared.InvCDF(n - 1, 1 - Confidence)))];

    /// <summary>What an uncertainty from n values is multiplied with, so that twice it holds the truth as often as twice a known one does:
    /// Student's t over the normal quantile (JCGM 100, annex G).</summary>
    /// <param name="values">How many; 0 where that is not known or many.</param>
    public static double StudentFactor(int values) => values is > 1 and < Telling ? Student[values] : 1;

    /// <summary>What a standard deviation from n values is multiplied with to be its upper limit at 95 % (one-sided, by chi-square): for
    /// thresholds that noise alone must not pass.</summary>
    /// <param name="values">How many; 0 where that is not known or many.</param>
    public static double UpperFactor(int values) => values is > 1 and < Telling ? Upper[values] : 1;
}
