namespace RigDaq.Core.Statistics;

/// <summary>Holm's step-down adjustment of p values for their number (Holm 1979).</summary>
public static class Holm
{
    /// <summary>The adjusted p values, in the order given; a null stays null and does not count, as in R's p.adjust.</summary>
    public static IReadOnlyList<double?> Adjust(IReadOnlyList<double?> pValues)
    {
        int[] order = [.. Enumerable.Range(0, pValues.Count).Where(i => pValues[i] is not null).OrderBy(i => pValues[i])];
        var adjusted = new double?[pValues.Count];
        double greatest = 0;
        for (int rank = 0; rank < order.Length; rank++)
        {
            greatest = Math.Max(greatest, Math.Min(1, (order.Length - rank) * pValues[order[rank]]!.Value));
            adjusted[order[rank]] = greatest;
        }

        return adjusted;
    }
}
