using MathNet.Numerics;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Integration;

namespace RigDaq.Core.Statistics;

/// <summary>
/// The noncentral t distribution, T = (Z + δ)/S with Z standard normal and S = √(χ²_ν/ν) independent of it: what a t statistic
/// follows when there is a true difference. Integrated by Gauss and Legendre over S or over Z, whichever the other follows smoothly.
/// </summary>
public static class NoncentralT
{
    private const int Panels = 12;
    private const int PointsOfPanel = 10;
    private const int StepsMax = 100;

    /// <summary>Normal and χ values lie within so many of their standard deviations but for less than 1e-15.</summary>
    private const double Reach = 9;

    /// <summary>P(T &gt; t) with noncentrality δ.</summary>
    /// <param name="t">Any real number.</param>
    /// <param name="degreesOfFreedom">1 or more.</param>
    /// <param name="noncentrality">δ, the true difference over its standard error.</param>
    public static double UpperTail(double t, double degreesOfFreedom, double noncentrality)
    {
        if (!(degreesOfFreedom >= 1 && double.IsFinite(degreesOfFreedom)))
            throw new ArgumentOutOfRangeException(nameof(degreesOfFreedom), degreesOfFreedom, "Must be 1 or more and finite.");
        if (t < 0) return 1 - UpperTail(-t, degreesOfFreedom, -noncentrality);
        double tail = t * t > 2 * degreesOfFreedom ? OverZ(t, degreesOfFreedom, noncentrality) : OverS(t, degreesOfFreedom, noncentrality);
        return Math.Clamp(tail, 0, 1);
    }

    /// <summary>The noncentrality at which a two-sided t test at <paramref name="alpha"/> has the wanted power.</summary>
    /// <param name="power">Above <paramref name="alpha"/>, below 1.</param>
    /// <param name="degreesOfFreedom">1 or more.</param>
    /// <param name="alpha">Above 0, below 1.</param>
    public static double NoncentralityFor(double power, double degreesOfFreedom, double alpha)
    {
        if (!(power > alpha && power < 1)) throw new ArgumentOutOfRangeException(nameof(power), power, "Must lie between α and 1.");
        double critical = StudentT.TwoSidedQuantile(alpha, degreesOfFreedom);
        double low = 0, high = 1, atLow = alpha - power, atHigh = At(high);
        while (atHigh < 0) (low, atLow, high, atHigh) = (high, atHigh, high * 2, At(high * 2));

        // Regula falsi, halving the weight of an end that stays (Dowell and Jarratt 1971).
        for (int step = 0, kept = 0; step < StepsMax && high - low > 1e-13 * high; step++)
        {
            double middle = (low * atHigh - high * atLow) / (atHigh - atLow), at = At(middle);
            if (Math.Abs(at) < 1e-14) return middle;
            if (at < 0)
            {
                (low, atLow) = (middle, at);
                if (kept == 1) atHigh /= 2;
                kept = 1;
            }
            else
            {
                (high, atHigh) = (middle, at);
                if (kept == -1) atLow /= 2;
                kept = -1;
            }
        }

        return (low + high) / 2;

        double At(double noncentrality) => BothTails(critical, degreesOfFreedom, noncentrality) - power;
    }

    private static double BothTails(double critical, double degreesOfFreedom, double noncentrality) =>
        UpperTail(critical, degreesOfFreedom, noncentrality) + UpperTail(critical, degreesOfFreedom, -noncentrality);

    /// <summary>The mean of Φ(δ − tS) over S: smooth where t is small beside the spread of S.</summary>
    private static double OverS(double t, double degreesOfFreedom, double noncentrality)
    {
        double spread = Reach / Math.Sqrt(2 * degreesOfFreedom), low = 1 - spread, high = 1 + spread;
        double logScale =
            Math.Log(2) + degreesOfFreedom / 2 * Math.Log(degreesOfFreedom / 2) - SpecialFunctions.GammaLn(degreesOfFreedom / 2);

        // Near 0 the density of S goes like S^(ν−1), which a polynomial follows badly for few degrees: then S = high·x³.
        return low > 0 ? Integral(At, low, high) : Integral(x => At(high * x * x * x) * 3 * high * x * x, 0, 1);

        double At(double s) => Math.Exp(logScale + (degreesOfFreedom - 1) * Math.Log(s) - degreesOfFreedom * s * s / 2)
            * Normal.CDF(0, 1, noncentrality - t * s);
    }

    /// <summary>The mean of P(S &lt; (Z + δ)/t) over Z: smooth where t is large.</summary>
    private static double OverZ(double t, double degreesOfFreedom, double noncentrality)
    {
        double low = Math.Max(-noncentrality, -Reach), high = Math.Max(low, Reach);
        if (high <= low) return 0;
        return low > -Reach ? Integral(x => At(low + (high - low) * x * x * x) * 3 * (high - low) * x * x, 0, 1) : Integral(At, low, high);

        double At(double z)
        {
            double s = (z + noncentrality) / t;
            return Math.Exp(-z * z / 2) / Math.Sqrt(2 * Math.PI)
                * SpecialFunctions.GammaLowerRegularized(degreesOfFreedom / 2, degreesOfFreedom * s * s / 2);
        }
    }

    private static double Integral(Func<double, double> function, double low, double high)
    {
        double width = (high - low) / Panels;
        return Enumerable.Range(0, Panels)
            .Sum(panel => GaussLegendreRule.Integrate(function, low + panel * width, low + (panel + 1) * width, PointsOfPanel));
    }
}
