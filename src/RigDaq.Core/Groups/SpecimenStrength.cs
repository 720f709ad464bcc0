using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Groups;

/// <summary>A specimen's strength within its study, on the study's section basis.</summary>
/// <param name="RunId">The run; empty for an imported strength, which has none.</param>
/// <param name="SpecimenId">The specimen.</param>
/// <param name="PrintId">Its print.</param>
/// <param name="Group">Its group.</param>
/// <param name="Megapascals">Peak force over section, in MPa.</param>
/// <param name="Ending">How it ended.</param>
/// <param name="Void">Why it is left out; null where it is not.</param>
/// <param name="Extrapolated">Whether the force lies beyond twice the greatest reference force.</param>
public sealed record SpecimenStrength(string RunId, string SpecimenId, string PrintId, GroupKey Group, double Megapascals,
    PullEnding Ending, RunVoid? Void, bool Extrapolated)
{
    /// <summary>How it broke: brittle or drawn; empty where that is not known.</summary>
    public string Manner { get; init; } = "";

    /// <summary>Where it broke, as a person noted it; empty where nobody did.</summary>
    public string Location { get; init; } = "";

    /// <summary>Whether it came from a table, without a trace.</summary>
    public bool Imported => RunId.Length == 0;
}
