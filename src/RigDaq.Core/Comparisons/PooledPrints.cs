using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Double;
using RigDaq.Core.Mixed;
using RigDaq.Core.Questions;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Comparisons;

/// <summary>
/// How print means scatter relative to their group's mean, pooled over all groups of an answer that have two prints or more: strong
/// materials scatter more in MPa, hardly in per cent. Prints that hold several settings bring their degrees of freedom once, and cancel
/// where the same prints stand on both sides.
/// </summary>
/// <param name="RelativeVariance">Of one print mean over its group's mean.</param>
/// <param name="DegreesOfFreedom">Σ(prints − 1) over material × condition.</param>
/// <param name="StretchVariance">Of one stretch's mean over its group's mean when its print's own deviation is taken off; null where
/// nothing shows it.</param>
/// <param name="StretchDegreesOfFreedom">Of that.</param>
internal sealed record PooledPrints(double RelativeVariance, int DegreesOfFreedom, double? StretchVariance, int StretchDegreesOfFreedom)
{
    /// <summary>Beyond so many prints in a material and condition what prints share is not taken off.</summary>
    private const int PrintsMax = 300;

    public static PooledPrints? Of(IReadOnlyList<GroupSample> groups, bool separatePrints)
    {
        double squares = 0, rest = 0;
        int ratios = 0, degrees = 0, restDegrees = 0;
        foreach (var family in groups.Where(Pools).GroupBy(g => (g.Key.Material, g.Key.Condition)))
        {
            StretchSample[] stretches = Relative([.. family], separatePrints);
            squares += stretches.Sum(s => s.Mean * s.Mean);
            ratios += family.Sum(g => g.Prints.Count - 1);
            StretchFamily joined = StretchFamily.Of(stretches);
            degrees += joined.Prints.Count - joined.Components;
            int own = stretches.Length - joined.Groups.Count - joined.Prints.Count + joined.Components;
            if (own <= 0 || joined.Prints.Count > PrintsMax) continue;
            restDegrees += own;
            rest += WithoutPrints(stretches, joined);
        }

        return degrees == 0 ? null : new PooledPrints(squares / ratios, degrees, restDegrees > 0 ? rest / restDegrees : null, restDegrees);
    }

    /// <summary>Whether the pooled scatter serves a group. Print means on both sides of zero have no relative scatter to speak
    /// of.</summary>
    public static bool Pools(GroupSample group) => group.HasSeveralPrints && group.Mean > 0 && group.PrintMeans.All(mean => mean >= 0);

    /// <summary>The group's mean with the pooled scatter.</summary>
    public MeanEstimate Estimate(GroupSample group) =>
        new(group.Mean, group.Mean * group.Mean * RelativeVariance / group.Prints.Count, DegreesOfFreedom);

    /// <summary>The two groups by the method that they allow, or null where one has too few values.</summary>
    public static (TwoMeans? Means, string Method) Pair(GroupSample b, GroupSample a, PooledPrints? pooled)
    {
        if (pooled is not null && Pools(b) && Pools(a))
            return (new TwoMeans(pooled.Estimate(b), pooled.Estimate(a), pooled.DegreesOfFreedom), Methods.Prints);
        return (b.OfThesePrints() is { } eb && a.OfThesePrints() is { } ea ? new TwoMeans(eb, ea) : null, Methods.Welch);
    }

    /// <summary>Two settings of one material and condition: where both are stretches of the same prints, these cancel.</summary>
    public static (TwoMeans? Means, string Method) Within(GroupSample b, GroupSample a, PooledPrints? pooled, bool separatePrints)
    {
        bool same = !separatePrints && b.PrintNames.All(name => name.Length > 0)
            && b.PrintNames.ToHashSet(StringComparer.Ordinal).SetEquals(a.PrintNames);
        if (!same || pooled is not { StretchVariance: { } variance } || !Pools(b) || !Pools(a)) return Pair(b, a, pooled);
        return (new TwoMeans(Stretched(b), Stretched(a), pooled.StretchDegreesOfFreedom), Methods.Prints);

        MeanEstimate Stretched(GroupSample group) =>
            new(group.Mean, group.Mean * group.Mean * variance / group.Prints.Count, pooled.StretchDegreesOfFreedom);
    }

    /// <summary>Print means as deviations from their group's mean, over it.</summary>
    private static StretchSample[] Relative(GroupSample[] groups, bool separatePrints)
    {
        var prints = new Dictionary<(string, decimal?), int>();
        return [.. groups.SelectMany((group, g) => group.PrintNames.Select((name, k) =>
        {
            var key = (name, separatePrints || name.Length == 0 ? group.Key.Setting : null);
            if (!prints.TryGetValue(key, out int print)) prints[key] = print = prints.Count;
            return new StretchSample(g, print, group.Prints[k].Count, group.PrintMeans[k] / group.Mean - 1, 0);
        }))];
    }

    /// <summary>The squares left when groups and prints are both taken off by least squares: bᵀ·M⁺·b less of them, M the prints' normal
    /// equations.</summary>
    private static double WithoutPrints(StretchSample[] stretches, StretchFamily family)
    {
        var place = family.Prints.Select((print, i) => (print[0].Print, i)).ToDictionary(p => p.Print, p => p.i);
        Matrix<double> m = new DenseMatrix(place.Count, place.Count);
        var b = new DenseVector(place.Count);
        foreach (StretchSample s in stretches)
        {
            b[place[s.Print]] += s.Mean;
            m[place[s.Print], place[s.Print]] += 1;
        }

        foreach (var group in stretches.GroupBy(s => s.Group))
        {
            int[] there = [.. group.Select(s => place[s.Print])];
            foreach (int i in there)
            {
                foreach (int j in there) m[i, j] -= 1.0 / there.Length;
            }
        }

        return Math.Max(0, stretches.Sum(s => s.Mean * s.Mean) - b * (m.PseudoInverse() * b));
    }
}
