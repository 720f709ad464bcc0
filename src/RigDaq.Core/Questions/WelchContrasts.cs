using RigDaq.Core.Mixed;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Questions;

/// <summary>
/// Without a model: each group has its own scatter, the mean of a group is the mean of its stretches, degrees of freedom are Welch and
/// Satterthwaite's. With a known scatter between prints and of stretches it holds for prints made alike, else for these prints only.
/// </summary>
internal sealed class WelchContrasts : IContrasts
{
    private readonly GroupMean[] _groups;
    private readonly KnownScatter? _print, _stretch;

    /// <summary>For these prints only.</summary>
    public WelchContrasts(StretchTable table) : this(table, null, null) => About = Abouts.ThesePrints;

    /// <summary>For prints made alike.</summary>
    /// <param name="table">The table.</param>
    /// <param name="print">What is known of the scatter between prints; null for none.</param>
    /// <param name="stretch">What is known of the scatter of stretches; null for none.</param>
    public WelchContrasts(StretchTable table, KnownScatter? print, KnownScatter? stretch)
    {
        (_print, _stretch) = (print, stretch);
        _groups = new GroupMean[table.Groups.Count];
        foreach (var group in table.Stretches.GroupBy(s => s.Group)) _groups[group.Key] = new GroupMean([.. group]);
    }

    public string About { get; } = Abouts.PrintsMadeAlike;

    public ContrastEstimate? Of(Contrast contrast)
    {
        (int Group, double Weight)[] weights = [.. contrast.Gathered];
        if (weights.Any(w => _groups[w.Group].Degrees == 0)) return null;
        // Each part of the variance with half the variance that it has itself: v²/df.
        var parts = new List<(double Variance, double Uncertainty)>();
        foreach (var (group, weight) in weights) parts.Add(Part(weight * weight * _groups[group].Variance, _groups[group].Degrees));
        if (_print is not null) parts.Add(Known(Squares(PrintWeights(weights).Values), _print));
        if (_stretch is not null) parts.Add(Known(weights.Sum(w => w.Weight * w.Weight / _groups[w.Group].Stretches.Length), _stretch));
        double variance = parts.Sum(p => p.Variance), size = weights.Sum(w => Math.Abs(w.Weight * _groups[w.Group].Mean));
        if (!(Math.Sqrt(variance) > MeanEstimate.TenMachineSteps * size)) return null;
        double degrees = Square(variance) / parts.Sum(p => p.Uncertainty);
        return new ContrastEstimate(weights.Sum(w => w.Weight * _groups[w.Group].Mean), Math.Sqrt(variance), Math.Min(degrees, DegreesMax));
    }

    public double Covariance(Contrast x, Contrast y)
    {
        (int Group, double Weight)[] left = [.. x.Gathered], right = [.. y.Gathered];
        Dictionary<int, double> other = right.ToDictionary(w => w.Group, w => w.Weight);
        double stretch = Square((_stretch?.Percent ?? 0) / 100), sum = 0;
        foreach (var (group, weight) in left)
        {
            if (other.TryGetValue(group, out double second))
                sum += weight * second * (_groups[group].Variance + stretch / _groups[group].Stretches.Length);
        }

        if (_print is not { Percent: > 0 }) return sum;
        Dictionary<int, double> a = PrintWeights(left), b = PrintWeights(right);
        return sum + a.Sum(print => print.Value * b.GetValueOrDefault(print.Key)) * Square(_print.Percent / 100);
    }

    /// <summary>Whether the prints do not cancel in a contrast: it sets prints against prints.</summary>
    public bool IsBetweenPrints(Contrast contrast) => PrintWeights([.. contrast.Gathered]).Values.Any(weight => Math.Abs(weight) > 1e-9);

    private Dictionary<int, double> PrintWeights((int Group, double Weight)[] weights)
    {
        var sums = new Dictionary<int, double>();
        foreach (var (group, weight) in weights)
        {
            StretchSample[] stretches = _groups[group].Stretches;
            foreach (StretchSample stretch in stretches)
                sums[stretch.Print] = sums.GetValueOrDefault(stretch.Print) + weight / stretches.Length;
        }

        return sums;
    }

    private static (double, double) Part(double variance, double degrees) => (variance, Square(variance) / degrees);

    private static (double, double) Known(double weight, KnownScatter scatter) => scatter.VarianceOfVariance is { } uncertain
        ? (weight * Square(scatter.Percent / 100), Square(weight) * uncertain / 2)
        : Part(weight * Square(scatter.Percent / 100), scatter.DegreesOfFreedom);

    private static double Squares(IEnumerable<double> values) => values.Sum(Square);

    private static double Square(double value) => value * value;

    /// <summary>A stated scatter rests on infinitely many; an answer has a number.</summary>
    private const double DegreesMax = 1e6;

    /// <summary>The mean of a group's stretches with the variance that its specimens give it.</summary>
    private sealed class GroupMean
    {
        public GroupMean(StretchSample[] stretches)
        {
            Stretches = stretches;
            Mean = Moments.Mean([.. stretches.Select(s => s.Mean)]);
            Degrees = stretches.Sum(s => s.N - 1);
            if (Degrees > 0) Variance = stretches.Sum(s => s.SumOfSquares) / Degrees * stretches.Sum(s => 1.0 / s.N) / stretches.Length
                / stretches.Length;
        }

        public StretchSample[] Stretches { get; }

        public double Mean { get; }

        public double Variance { get; }

        public int Degrees { get; }
    }
}
