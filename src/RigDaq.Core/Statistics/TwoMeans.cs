namespace RigDaq.Core.Statistics;

/// <summary>An interval in the unit of what it surrounds.</summary>
/// <param name="Low">Its lower end.</param>
/// <param name="High">Its upper end.</param>
public readonly record struct Interval(double Low, double High);

/// <summary>Two means set against each other: difference, ratio and equivalence, each with Satterthwaite's degrees of freedom for the
/// combination b − θa that it looks at (θ = 1 for the difference: Welch), or with the degrees of a variance that both share.</summary>
public sealed class TwoMeans
{
    /// <summary>Beyond this ratio the reference mean is nothing but 0, and squares would overflow.</summary>
    private const double RatioMax = 1e9;

    private readonly MeanEstimate _b, _a;
    private readonly double? _pooledDegreesOfFreedom;

    /// <summary>Each mean has its own variance.</summary>
    /// <param name="b">What is compared.</param>
    /// <param name="a">The reference.</param>
    public TwoMeans(MeanEstimate b, MeanEstimate a) => (_b, _a) = (b, a);

    /// <summary>Both variances come from one pooled estimate.</summary>
    /// <param name="b">What is compared.</param>
    /// <param name="a">The reference.</param>
    /// <param name="pooledDegreesOfFreedom">Of the pooled estimate.</param>
    public TwoMeans(MeanEstimate b, MeanEstimate a, double pooledDegreesOfFreedom) : this(b, a) =>
        _pooledDegreesOfFreedom = pooledDegreesOfFreedom;

    /// <summary>b − a.</summary>
    public double Difference => _b.Mean - _a.Mean;

    /// <summary>Whether there is any scatter to measure the difference with.</summary>
    public bool HasScatter =>
        Math.Sqrt(_b.VarianceOfMean + _a.VarianceOfMean) > MeanEstimate.TenMachineSteps * Math.Max(Math.Abs(_a.Mean), Math.Abs(_b.Mean));

    /// <summary>The standard error of the difference.</summary>
    public double StandardError => Math.Sqrt(VarianceAt(1));

    /// <summary>The degrees of freedom of the difference (Welch 1947).</summary>
    public double DegreesOfFreedom => DegreesOfFreedomAt(1);

    /// <summary>The difference over its standard error.</summary>
    public double T => Difference / StandardError;

    /// <summary>The two-sided p of no difference.</summary>
    public double P => StudentT.TwoSidedTail(T, DegreesOfFreedom);

    /// <summary>The ratio b/a, or null where the reference mean is not above 0 or so near to it that the ratio is beyond all
    /// numbers.</summary>
    public double? Ratio => RatioOf(_b.Mean, _a.Mean);

    /// <summary>b/a for percentages, or null where there is no sense in it.</summary>
    internal static double? RatioOf(double b, double a) => a > 0 && Math.Abs(b / a) < RatioMax ? b / a : null;

    /// <summary>The interval of the difference.</summary>
    public Interval DifferenceInterval(double alpha)
    {
        double half = StudentT.TwoSidedQuantile(alpha, DegreesOfFreedom) * StandardError;
        return new Interval(Difference - half, Difference + half);
    }

    /// <summary>Fieller's interval of b/a with the degrees of freedom at the estimated ratio, or null where it is unbounded: the reference
    /// mean cannot be told from 0.</summary>
    public Interval? RatioInterval(double alpha)
    {
        if (Ratio is not { } ratio) return null;
        double t = StudentT.TwoSidedQuantile(alpha, DegreesOfFreedomAt(ratio));
        double g = t * t * _a.VarianceOfMean / (_a.Mean * _a.Mean);
        if (!(g < 1)) return null;
        double half = t / _a.Mean * Math.Sqrt(_b.VarianceOfMean * (1 - g) + ratio * ratio * _a.VarianceOfMean);
        var interval = new Interval((ratio - half) / (1 - g), (ratio + half) / (1 - g));
        return double.IsFinite(100 * interval.Low) && double.IsFinite(100 * interval.High) ? interval : null;
    }

    /// <summary>The p of two one-sided tests (Schuirmann 1987) of b outside (1 ± margin)·a, the reference mean being itself an estimate;
    /// null where the reference mean is not above 0.</summary>
    /// <param name="margin">As a share: 0.05 for 5 %.</param>
    public double? EquivalenceP(double margin)
    {
        if (_a.Mean <= 0) return null;
        double above = StudentT.UpperTail(TAt(1 - margin), DegreesOfFreedomAt(1 - margin));
        double below = StudentT.UpperTail(-TAt(1 + margin), DegreesOfFreedomAt(1 + margin));
        return Math.Max(above, below);
    }

    /// <summary>The smallest true difference that is called different with the wanted power at α, unadjusted.</summary>
    public double Resolvable(double alpha, double power = Planning.Power) =>
        StandardError * NoncentralT.NoncentralityFor(power, DegreesOfFreedom, alpha);

    private double TAt(double theta) => (_b.Mean - theta * _a.Mean) / Math.Sqrt(VarianceAt(theta));

    private double VarianceAt(double theta) => _b.VarianceOfMean + theta * theta * _a.VarianceOfMean;

    /// <summary>Satterthwaite's degrees of freedom of b − θa.</summary>
    private double DegreesOfFreedomAt(double theta)
    {
        if (_pooledDegreesOfFreedom is { } pooled) return pooled;
        double b = _b.VarianceOfMean, a = theta * theta * _a.VarianceOfMean;

        // A ratio near 0 can make both vanish; the cautious figure then.
        if (b + a == 0) return Math.Min(_b.DegreesOfFreedom, _a.DegreesOfFreedom);

        // As shares of their sum: squares of squares would vanish for tiny values.
        double share = b / (b + a);
        return 1 / (share * share / _b.DegreesOfFreedom + (1 - share) * (1 - share) / _a.DegreesOfFreedom);
    }
}
