using RigDaq.Core.Comparisons;

namespace RigDaq.Core.Questions;

/// <summary>The words of <see cref="Comparison.Method"/>.</summary>
public static class Methods
{
    /// <summary>The print mean is the datum, its variance pooled over all groups with two prints or more.</summary>
    public const string Prints = "prints";

    /// <summary>The specimen is the datum, each group with its own variance.</summary>
    public const string Welch = "welch";
}
