namespace RigDaq.Core.Statistics;

/// <summary>A Shewhart chart of individual values: centre ± 3σ, σ = mean moving range / 1.128 (d₂ for two; NIST/SEMATECH e-Handbook
/// 6.3.2.2).</summary>
/// <param name="Centre">The mean of the baseline.</param>
/// <param name="Sigma">From the baseline's moving ranges.</param>
public sealed record IndividualsChart(double Centre, double Sigma)
{
    /// <summary>The mean range of two normal values over their standard deviation.</summary>
    public const double RangeOfTwo = 1.128;

    private const double Width = 3;

    /// <summary>The upper limit.</summary>
    public double Upper => Centre + (Width * Sigma);

    /// <summary>The lower limit.</summary>
    public double Lower => Centre - (Width * Sigma);

    /// <summary>A chart from its baseline, in the order of time; two values at least.</summary>
    public static IndividualsChart Of(IReadOnlyList<double> baseline)
    {
        if (baseline.Count < 2) throw new ArgumentException("A baseline has two values or more.", nameof(baseline));
        double ranges = 0;
        for (int i = 1; i < baseline.Count; i++) ranges += Math.Abs(baseline[i] - baseline[i - 1]);
        return new IndividualsChart(baseline.Average(), ranges / (baseline.Count - 1) / RangeOfTwo);
    }
}
