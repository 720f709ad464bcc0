using RigDaq.Core.Specimens;

namespace RigDaq.Core.Groups;

/// <summary>One specimen's strength and where it belongs.</summary>
/// <param name="Group">Material, condition, setting.</param>
/// <param name="Print">The print it was cut from, unique within material and condition: the same name at several settings is one print with
/// a stretch at each. Empty where the table does not say: then the group is a print of its own.</param>
/// <param name="StrengthMegapascals">Its strength in MPa, finite.</param>
public sealed record Observation(GroupKey Group, string Print, double StrengthMegapascals)
{
    /// <summary>How it broke: brittle, drawn, mixed; empty where nobody judged it.</summary>
    public string Manner { get; init; } = "";

    /// <summary>Where it broke: between layers, at the grip …; empty where nobody looked.</summary>
    public string Location { get; init; } = "";

    /// <summary>Whether it came from a table, without a trace of ours.</summary>
    public bool IsImported { get; init; }

    /// <summary>The calibration that it was measured under; empty where that is not known.</summary>
    public string CalibrationId { get; init; } = "";

    /// <summary>That calibration's standard uncertainty in per cent of this strength; null where not known.</summary>
    public double? CalibrationPercent { get; init; }
}
