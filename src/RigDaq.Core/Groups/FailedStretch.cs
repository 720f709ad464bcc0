using RigDaq.Core.Specimens;

namespace RigDaq.Core.Groups;

/// <summary>A stretch that could not be printed.</summary>
/// <param name="Group">Material, condition, setting.</param>
/// <param name="Print">The print it belonged to; empty where it was a print of its own.</param>
public sealed record FailedStretch(GroupKey Group, string Print)
{
    /// <summary>How many prints were tried, all in vain; 1 or more.</summary>
    public int Tries { get; init; } = 1;

    /// <summary>Why, in a person's words; may be empty.</summary>
    public string Reason { get; init; } = "";
}
