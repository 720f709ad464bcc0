using RigDaq.Core.Groups;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Mixed;

/// <summary>One setting on one print: the indices of its group and print, and all that the model needs of its <c>N</c> specimens, on its
/// own scale.</summary>
internal sealed record StretchSample(int Group, int Print, int N, double Mean, double SumOfSquares);

/// <summary>Strengths as sums over stretches: groups, the prints that hold them, and what belongs to one material and condition.</summary>
internal sealed class StretchTable
{
    private readonly Scatter[] _scatters;

    private StretchTable(IReadOnlyList<GroupKey> groups, IReadOnlyList<StretchSample> stretches, IReadOnlyList<StretchFamily> families)
    {
        Groups = groups;
        Stretches = stretches;
        Families = families;
        FamilyOf = new int[groups.Count];
        PlaceOf = new int[groups.Count];
        _scatters = new Scatter[groups.Count];
        foreach (var group in stretches.GroupBy(s => s.Group))
        {
            int degrees = group.Sum(s => s.N - 1);
            _scatters[group.Key] = new Scatter(degrees > 0 ? group.Sum(s => s.SumOfSquares) / degrees : 0, degrees, group.Sum(s => s.N));
        }

        for (int f = 0; f < families.Count; f++)
        {
            for (int place = 0; place < families[f].Groups.Count; place++)
                (FamilyOf[families[f].Groups[place]], PlaceOf[families[f].Groups[place]]) = (f, place);
        }
    }

    /// <summary>In the order of first appearance.</summary>
    public IReadOnlyList<GroupKey> Groups { get; }

    /// <summary>All stretches.</summary>
    public IReadOnlyList<StretchSample> Stretches { get; }

    /// <summary>Material × condition, each independent of the others.</summary>
    public IReadOnlyList<StretchFamily> Families { get; }

    /// <summary>The family of a group.</summary>
    public int[] FamilyOf { get; }

    /// <summary>Where a group stands in its family.</summary>
    public int[] PlaceOf { get; }

    /// <summary>How a group's specimens scatter within its stretches.</summary>
    public Scatter ScatterOf(int group) => _scatters[group];

    /// <summary>Specimens.</summary>
    public int Specimens => Stretches.Sum(s => s.N);

    /// <summary>Prints.</summary>
    public int Prints => Families.Sum(f => f.Prints.Count);

    /// <summary>Degrees of freedom between prints: what prints of a family that share settings differ in.</summary>
    public int PrintDegrees => Families.Sum(f => f.Prints.Count - f.Components);

    /// <summary>Degrees of freedom of stretches beyond their print and their group.</summary>
    public int StretchDegrees => Stretches.Count - Families.Sum(f => f.Groups.Count + f.Prints.Count - f.Components);

    /// <summary>Degrees of freedom of specimens within stretches.</summary>
    public int SpecimenDegrees => Specimens - Stretches.Count;

    /// <summary>Gathers.</summary>
    /// <param name="observations">Strengths; on the logarithm all above 0.</param>
    /// <param name="scale">What the model lives on.</param>
    /// <param name="separatePrints">Whether the same print name at several settings stands for several prints.</param>
    public static StretchTable Of(IEnumerable<Observation> observations, ModelScale scale, bool separatePrints)
    {
        var groups = new Dictionary<GroupKey, int>();
        var prints = new Dictionary<(string, string, decimal?, string), int>();
        var values = new Dictionary<(int Group, int Print), List<double>>();
        foreach (Observation o in observations)
        {
            if (!groups.TryGetValue(o.Group, out int group)) groups[o.Group] = group = groups.Count;
            decimal? alone = separatePrints || o.Print.Length == 0 ? o.Group.Setting : null;
            var key = (o.Group.Material, o.Group.Condition, alone, o.Print);
            if (!prints.TryGetValue(key, out int print)) prints[key] = print = prints.Count;
            if (!values.TryGetValue((group, print), out List<double>? list)) values[(group, print)] = list = [];
            list.Add(scale == ModelScale.Log ? Math.Log(o.StrengthMegapascals) : o.StrengthMegapascals);
        }

        StretchSample[] stretches =
            [.. values.Select(v => new StretchSample(v.Key.Group, v.Key.Print, v.Value.Count, Moments.Mean(v.Value),
            Moments.SumOfSquares(v.Value)))];
        GroupKey[] keys = [.. groups.Keys];
        StretchFamily[] families = [.. stretches.GroupBy(s => (keys[s.Group].Material, keys[s.Group].Condition))
            .Select(family => StretchFamily.Of(family))];
        return new StretchTable(keys, stretches, families);
    }
}

/// <summary>How specimens scatter within stretches, on the model's scale, squared; the variance is 0 without degrees of freedom.</summary>
internal readonly record struct Scatter(double Variance, int Degrees, int Specimens);

/// <summary>One material in one condition: its groups, the stretches of each print, and into how many parts prints and settings fall that
/// share nothing.</summary>
internal sealed record StretchFamily(IReadOnlyList<int> Groups, IReadOnlyList<StretchSample[]> Prints, int Components)
{
    public static StretchFamily Of(IEnumerable<StretchSample> stretches)
    {
        StretchSample[] all = [.. stretches];
        int[] groups = [.. all.Select(s => s.Group).Distinct().Order()];
        StretchSample[][] prints = [.. all.GroupBy(s => s.Print).Select(print => print.ToArray())];

        // Prints that share a setting are joined, and again whatever those share.
        int[] part = [.. Enumerable.Range(0, prints.Length)];
        foreach (var shared in prints.SelectMany((print, i) => print.Select(s => (s.Group, i))).GroupBy(s => s.Group))
        {
            int first = shared.First().i;
            foreach (var (_, i) in shared) part[Root(i)] = Root(first);
        }

        return new StretchFamily(groups, prints, Enumerable.Range(0, prints.Length).Count(i => part[i] == i));

        int Root(int i)
        {
            while (part[i] != i) i = part[i] = part[part[i]];
            return i;
        }
    }
}
