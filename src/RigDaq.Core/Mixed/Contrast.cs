namespace RigDaq.Core.Mixed;

/// <summary>A weighted sum of group means.</summary>
/// <param name="Weights">Index of a group and its weight; a group may stand several times.</param>
internal sealed record Contrast(IReadOnlyList<(int Group, double Weight)> Weights)
{
    /// <summary>First minus second.</summary>
    public static Contrast Of(int first, int second) => new([(first, 1), (second, -1)]);

    /// <summary>The difference of two contrasts.</summary>
    public static Contrast operator -(Contrast left, Contrast right) =>
        new([.. left.Weights, .. right.Weights.Select(w => (w.Group, -w.Weight))]);

    /// <summary>A weighted sum of contrasts.</summary>
    public static Contrast Sum(IEnumerable<(Contrast Contrast, double Weight)> parts) =>
        new([.. parts.SelectMany(part => part.Contrast.Weights.Select(w => (w.Group, part.Weight * w.Weight)))]);

    /// <summary>Each group once.</summary>
    public IEnumerable<(int Group, double Weight)> Gathered => Weights.GroupBy(w => w.Group).Select(g => (g.Key, g.Sum(w => w.Weight)));
}
