namespace RigDaq.Core.Statistics;

/// <summary>One-way analysis of variance: what lies between parts and what lies within them.</summary>
public sealed record OneWayAnova
{
    /// <summary>The sum of squares between parts.</summary>
    public required double BetweenSquares { get; init; }

    /// <summary>The sum of squares within parts.</summary>
    public required double WithinSquares { get; init; }

    /// <summary>Parts less one.</summary>
    public required int BetweenDegreesOfFreedom { get; init; }

    /// <summary>Values less parts.</summary>
    public required int WithinDegreesOfFreedom { get; init; }

    /// <summary>n₀, the number of values a part that the expected mean square between counts with.</summary>
    public required double EffectiveSize { get; init; }

    /// <summary>The mean square within, s² of one value in its part.</summary>
    public double WithinMeanSquare => WithinSquares / WithinDegreesOfFreedom;

    /// <summary>The ratio of mean squares.</summary>
    public double F => BetweenSquares / BetweenDegreesOfFreedom / WithinMeanSquare;

    /// <summary>The variance component between parts, not below 0 (method of moments).</summary>
    public double BetweenVariance => Math.Max(0, (BetweenSquares / BetweenDegreesOfFreedom - WithinMeanSquare) / EffectiveSize);

    /// <summary>Splits the variation; null unless there are two parts and more values than parts.</summary>
    public static OneWayAnova? Of(IReadOnlyList<IReadOnlyList<double>> parts)
    {
        int n = parts.Sum(part => part.Count);
        if (parts.Count < 2 || n <= parts.Count) return null;
        double grand = Moments.Mean([.. parts.SelectMany(part => part)]);
        double between = 0, within = 0, rest = 0;
        foreach (IReadOnlyList<double> part in parts)
        {
            double deviation = Moments.Mean(part) - grand;
            between += part.Count * deviation * deviation;
            rest += part.Count * deviation;
            within += Moments.SumOfSquares(part);
        }

        return new OneWayAnova
        {
            BetweenSquares = between - rest * rest / n,
            WithinSquares = within,
            BetweenDegreesOfFreedom = parts.Count - 1,
            WithinDegreesOfFreedom = n - parts.Count,
            EffectiveSize = (n - parts.Sum(part => (double)part.Count * part.Count) / n) / (parts.Count - 1),
        };
    }
}
