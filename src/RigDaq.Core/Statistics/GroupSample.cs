using RigDaq.Core.Specimens;

namespace RigDaq.Core.Statistics;

/// <summary>A group's values, by print.</summary>
internal sealed class GroupSample
{
    public GroupSample(GroupKey key, IEnumerable<Observation> observations)
    {
        Key = key;
        Observation[] all = [.. observations];
        Values = [.. all.Select(o => o.StrengthMegapascals)];
        Prints = [.. all.GroupBy(o => o.Print, StringComparer.Ordinal).Select(print => (IReadOnlyList<double>)[.. print.Select(o => o.StrengthMegapascals)])];
        PrintMeans = [.. Prints.Select(Moments.Mean)];
    }

    public GroupKey Key { get; }

    public IReadOnlyList<double> Values { get; }

    public IReadOnlyList<IReadOnlyList<double>> Prints { get; }

    public IReadOnlyList<double> PrintMeans { get; }

    public bool HasSeveralPrints => Prints.Count >= 2;

    /// <summary>The mean of print means; with one print that is the mean of the specimens.</summary>
    public double Mean => Moments.Mean(PrintMeans);

    /// <summary>For sentences: "Alder, fan off, 230 °C".</summary>
    public string Name(string unit) => Key.Describe(unit);
}

/// <summary>The variance of print means, pooled over all groups of an answer that have two prints or more.</summary>
/// <param name="Variance">Of one print mean, in MPa².</param>
/// <param name="DegreesOfFreedom">Prints less groups.</param>
internal sealed record PooledPrints(double Variance, int DegreesOfFreedom)
{
    public static PooledPrints? Of(IEnumerable<GroupSample> groups)
    {
        double squares = 0;
        int degrees = 0;
        foreach (GroupSample group in groups.Where(g => g.HasSeveralPrints))
        {
            squares += Moments.SumOfSquares(group.PrintMeans);
            degrees += group.Prints.Count - 1;
        }

        return degrees == 0 ? null : new PooledPrints(squares / degrees, degrees);
    }

    /// <summary>The group's mean with the pooled variance.</summary>
    public MeanEstimate Estimate(GroupSample group) => new(group.Mean, Variance / group.Prints.Count, DegreesOfFreedom);

    /// <summary>The two groups by the method that they allow, or null where one has too few values.</summary>
    public static (TwoMeans? Means, string Method) Pair(GroupSample b, GroupSample a, PooledPrints? pooled)
    {
        if (pooled is not null && b.HasSeveralPrints && a.HasSeveralPrints)
            return (new TwoMeans(pooled.Estimate(b), pooled.Estimate(a), pooled.DegreesOfFreedom), Methods.Prints);
        return (Moments.Estimate(b.Values) is { } eb && Moments.Estimate(a.Values) is { } ea ? new TwoMeans(eb, ea) : null, Methods.Welch);
    }
}
