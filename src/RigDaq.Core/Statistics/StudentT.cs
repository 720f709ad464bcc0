using MathNet.Numerics;

namespace RigDaq.Core.Statistics;

/// <summary>
/// Student's t distribution with real degrees of freedom. The library's own quantile searches only within ±800 and stops at an
/// absolute error in the probability; far tails (Grubbs over many values, one degree of freedom) need a relative one, so it is ours.
/// </summary>
public static class StudentT
{
    private const int IterationsMax = 200;

    /// <summary>P(T &gt; t), accurate relative to itself in the upper tail.</summary>
    /// <param name="t">Any real number.</param>
    /// <param name="degreesOfFreedom">Above 0.</param>
    public static double UpperTail(double t, double degreesOfFreedom)
    {
        Require(degreesOfFreedom);
        double half = 0.5 * SpecialFunctions.BetaRegularized(degreesOfFreedom / 2, 0.5, degreesOfFreedom / (degreesOfFreedom + t * t));
        return t >= 0 ? half : 1 - half;
    }

    /// <summary>P(|T| &gt; |t|), the p value of a two-sided test.</summary>
    public static double TwoSidedTail(double t, double degreesOfFreedom) => Math.Min(1, 2 * UpperTail(Math.Abs(t), degreesOfFreedom));

    /// <summary>The t above which a share <paramref name="probability"/> of the distribution lies.</summary>
    /// <param name="probability">Above 0, below 1.</param>
    /// <param name="degreesOfFreedom">Above 0.</param>
    public static double UpperQuantile(double probability, double degreesOfFreedom)
    {
        Require(degreesOfFreedom);
        if (!(probability > 0 && probability < 1))
            throw new ArgumentOutOfRangeException(nameof(probability), probability, "Must lie between 0 and 1.");
        if (probability > 0.5) return -UpperQuantile(1 - probability, degreesOfFreedom);
        if (probability == 0.5) return 0;
        double low = 0, high = 1;
        while (UpperTail(high, degreesOfFreedom) > probability) (low, high) = (high, high * 2);

        // Newton's steps on the logarithm of the tail, kept inside the bracket.
        double t = (low + high) / 2;
        for (int i = 0; i < IterationsMax; i++)
        {
            double tail = UpperTail(t, degreesOfFreedom);
            if (tail > probability) low = t;
            else high = t;
            double next = t + tail * Math.Log(tail / probability) / MathNet.Numerics.Distributions.StudentT.PDF(0, 1, degreesOfFreedom, t);
            if (!(next > low && next < high)) next = (low + high) / 2;
            if (Math.Abs(next - t) <= 1e-15 * Math.Abs(t)) return next;
            t = next;
        }

        return t;
    }

    /// <summary>The t of a two-sided interval: exceeded in size with probability <paramref name="alpha"/>.</summary>
    public static double TwoSidedQuantile(double alpha, double degreesOfFreedom) => UpperQuantile(alpha / 2, degreesOfFreedom);

    private static void Require(double degreesOfFreedom)
    {
        if (!(degreesOfFreedom > 0 && double.IsFinite(degreesOfFreedom)))
            throw new ArgumentOutOfRangeException(nameof(degreesOfFreedom), degreesOfFreedom, "Must be above 0 and finite.");
    }
}
