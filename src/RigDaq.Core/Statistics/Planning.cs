namespace RigDaq.Core.Statistics;

/// <summary>How many specimens and prints a question needs, and what a planned number answers.</summary>
public static class Planning
{
    /// <summary>The power that "resolvable" stands for: four cases of five.</summary>
    public const double Power = 0.8;
}
