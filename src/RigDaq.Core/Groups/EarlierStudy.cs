using RigDaq.Core.Specimens;

namespace RigDaq.Core.Groups;

/// <summary>An earlier study on the same bench that groups are set against; never pooled.</summary>
public sealed record EarlierStudy
{
    /// <summary>What to call it, with its date where that is known.</summary>
    public required string Name { get; init; }

    /// <summary>Its strengths.</summary>
    public required IReadOnlyList<Observation> Observations { get; init; }

    /// <summary>The standard uncertainty of its calibration in per cent of strength, shared by all of its specimens; null where not
    /// known.</summary>
    public double? CalibrationPercent { get; init; }

    /// <summary>Whether a control piece was pulled in both studies; null where nobody said.</summary>
    public bool? ControlInBoth { get; init; }

    /// <summary>The group that it pulled as a control; null where it is not known.</summary>
    public GroupKey? Control { get; init; }

    /// <summary>Whether it was measured on another bench.</summary>
    public bool FromElsewhere { get; init; }

    /// <summary>Whether the scatter between its prints is used where the study at hand has one print of each.</summary>
    public bool GivesScatter { get; init; } = true;
}
