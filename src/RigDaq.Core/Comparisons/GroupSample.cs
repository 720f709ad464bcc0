using RigDaq.Core.Groups;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Comparisons;

/// <summary>A group's values, by print.</summary>
internal sealed class GroupSample
{
    public GroupSample(GroupKey key, IEnumerable<Observation> observations)
    {
        Key = key;
        Observation[] all = [.. observations];
        Values = [.. all.Select(o => o.StrengthMegapascals)];
        var prints = all.GroupBy(o => o.Print, StringComparer.Ordinal).ToArray();
        PrintNames = [.. prints.Select(print => print.Key)];
        Prints = [.. prints.Select(print => (IReadOnlyList<double>)[.. print.Select(o => o.StrengthMegapascals)])];
        PrintMeans = [.. Prints.Select(Moments.Mean)];
        Mean = Moments.Mean(PrintMeans);
    }

    public GroupKey Key { get; }

    public IReadOnlyList<double> Values { get; }

    public IReadOnlyList<string> PrintNames { get; }

    public IReadOnlyList<IReadOnlyList<double>> Prints { get; }

    public IReadOnlyList<double> PrintMeans { get; }

    public bool HasSeveralPrints => Prints.Count >= 2;

    /// <summary>The mean of print means; with one print that is the mean of the specimens.</summary>
    public double Mean { get; }

    /// <summary>The mean as an estimate of these prints' own, by the scatter of specimens within prints; of single specimens by that of the
    /// prints. Null with one value.</summary>
    public MeanEstimate? OfThesePrints()
    {
        int degrees = Values.Count - Prints.Count;
        if (degrees == 0) return Moments.Estimate(PrintMeans);
        double within = Prints.Sum(Moments.SumOfSquares) / degrees;
        return new MeanEstimate(Mean, within * Prints.Sum(print => 1.0 / print.Count) / Prints.Count / Prints.Count, degrees);
    }

    /// <summary>For sentences: "Alder, fan off, 230 °C".</summary>
    public string Name(string unit) => Key.Describe(unit);
}
