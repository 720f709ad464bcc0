using RigDaq.Core.Comparisons;

namespace RigDaq.Core.Questions;

/// <summary>The words of <see cref="Comparison.Verdict"/>.</summary>
public static class Verdicts
{
    /// <summary>A difference after Holm.</summary>
    public const string Different = "different";

    /// <summary>Shown to be smaller than the margin.</summary>
    public const string Equivalent = "equivalent";

    /// <summary>Neither.</summary>
    public const string NotResolved = "not resolved";
}
