namespace RigDaq.Core.Statistics;

/// <summary>An exponentially weighted moving average: slow to shout, quick to see a small lasting shift (NIST/SEMATECH e-Handbook
/// 6.3.2.4).</summary>
/// <param name="Centre">The mean of the baseline, where it begins.</param>
/// <param name="Sigma">The standard deviation of single values.</param>
public sealed record EwmaChart(double Centre, double Sigma)
{
    /// <summary>The weight of the newest value.</summary>
    public double Lambda { get; init; } = 0.2;

    /// <summary>The limits' width in standard deviations of the average.</summary>
    public double Width { get; init; } = 3;

    /// <summary>The average after each value.</summary>
    public IReadOnlyList<double> Averages(IEnumerable<double> values)
    {
        var averages = new List<double>();
        double average = Centre;
        foreach (double value in values)
        {
            average = (Lambda * value) + ((1 - Lambda) * average);
            averages.Add(average);
        }

        return averages;
    }

    /// <summary>Half the distance between the limits after a number of values: L·σ·√(λ/(2−λ)·(1−(1−λ)^(2i))).</summary>
    /// <param name="count">How many values, from 1; a great number for the limit that it tends to.</param>
    public double HalfWidth(int count) => Width * Sigma * Math.Sqrt(Lambda / (2 - Lambda) * (1 - Math.Pow(1 - Lambda, 2.0 * count)));
}
