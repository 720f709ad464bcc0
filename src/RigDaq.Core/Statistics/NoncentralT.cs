using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace RigDaq.Core.Statistics;

/// <summary>
/// The noncentral t distribution, T = (Z + δ)/S with Z standard normal and S = √(χ²_ν/ν) independent of it: what a t statistic
/// follows when there is a true difference. Its tail is the mean of Φ(δ − t·S) over S, integrated by Gauss and Legendre.
/// </summary>
public static class NoncentralT
{
    private const int Panels = 48;
    private const int BisectionsMax = 200;

    // Ten-point Gauss-Legendre on [-1, 1]: positive nodes with their weights (Abramowitz and Stegun, table 25.4).
    private static readonly double[] Nodes = [0.1488743389816312, 0.4333953941292472, 0.6794095682990244, 0.8650633666889845, 0.9739065285171717];
    private static readonly double[] Weights = [0.2955242247147529, 0.2692667193099963, 0.2190863625159820, 0.1494513491505806, 0.0666713443086881];

    /// <summary>P(T &gt; t) with noncentrality δ.</summary>
    /// <param name="t">Any real number.</param>
    /// <param name="degreesOfFreedom">1 or more.</param>
    /// <param name="noncentrality">δ, the true difference over its standard error.</param>
    public static double UpperTail(double t, double degreesOfFreedom, double noncentrality)
    {
        if (!(degreesOfFreedom >= 1 && double.IsFinite(degreesOfFreedom)))
            throw new ArgumentOutOfRangeException(nameof(degreesOfFreedom), degreesOfFreedom, "Must be 1 or more and finite.");

        // S lies within ±12 of its own standard deviations of 1 but for about 1e-30; for few degrees it is bounded by 0 on the left.
        double spread = 12 / Math.Sqrt(2 * degreesOfFreedom);
        double low = Math.Max(0, 1 - spread), high = 1 + spread;

        // Near 0 the density of S goes like S^(ν−1), which a polynomial follows badly for few degrees: then S = high·x³.
        int power = low > 0 ? 1 : 3;
        double from = low > 0 ? low : 0, width = ((low > 0 ? high : 1) - from) / Panels, sum = 0;
        double logScale = Math.Log(2) + degreesOfFreedom / 2 * Math.Log(degreesOfFreedom / 2) - SpecialFunctions.GammaLn(degreesOfFreedom / 2);
        for (int panel = 0; panel < Panels; panel++)
        {
            double middle = from + (panel + 0.5) * width;
            for (int i = 0; i < Nodes.Length; i++)
            {
                sum += Weights[i] * (At(middle - Nodes[i] * width / 2) + At(middle + Nodes[i] * width / 2));
            }
        }

        return Math.Clamp(sum * width / 2, 0, 1);

        double At(double x)
        {
            if (power == 1) return Integrand(x);
            return Integrand(high * x * x * x) * 3 * high * x * x;
        }

        double Integrand(double s) => Math.Exp(logScale + (degreesOfFreedom - 1) * Math.Log(s) - degreesOfFreedom * s * s / 2)
            * Normal.CDF(0, 1, noncentrality - t * s);
    }

    /// <summary>The power of a two-sided t test at <paramref name="alpha"/>, both tails counted.</summary>
    public static double Power(double noncentrality, double degreesOfFreedom, double alpha)
    {
        double critical = StudentT.TwoSidedQuantile(alpha, degreesOfFreedom);
        return UpperTail(critical, degreesOfFreedom, noncentrality) + UpperTail(critical, degreesOfFreedom, -noncentrality);
    }

    /// <summary>The noncentrality at which a two-sided t test at <paramref name="alpha"/> has the wanted power.</summary>
    /// <param name="power">Above <paramref name="alpha"/>, below 1.</param>
    /// <param name="degreesOfFreedom">1 or more.</param>
    /// <param name="alpha">Above 0, below 1.</param>
    public static double NoncentralityFor(double power, double degreesOfFreedom, double alpha)
    {
        if (!(power > alpha && power < 1)) throw new ArgumentOutOfRangeException(nameof(power), power, "Must lie between α and 1.");
        double critical = StudentT.TwoSidedQuantile(alpha, degreesOfFreedom);
        double low = 0, high = 1;
        while (At(high) < power) high *= 2;
        for (int i = 0; i < BisectionsMax && high - low > 1e-13 * high; i++)
        {
            double middle = (low + high) / 2;
            if (At(middle) < power) low = middle;
            else high = middle;
        }

        return (low + high) / 2;

        double At(double noncentrality) => UpperTail(critical, degreesOfFreedom, noncentrality) + UpperTail(critical, degreesOfFreedom, -noncentrality);
    }
}
