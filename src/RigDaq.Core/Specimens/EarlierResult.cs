using System.Globalization;

namespace RigDaq.Core.Specimens;

/// <summary>What an earlier study measured, as it stood when a person set this study against it: kept with the study, so that a package, a
/// backup and a report rest on the same figures whatever becomes of the other study.</summary>
public sealed record EarlierResult
{
    /// <summary>The earlier study.</summary>
    public required string StudyId { get; init; }

    /// <summary>Its name then.</summary>
    public required string Name { get; init; }

    /// <summary>When it was set against.</summary>
    public required DateTimeOffset TakenAt { get; init; }

    /// <summary>When its first strength was measured, or imported; null where that is not known.</summary>
    public DateTimeOffset? From { get; init; }

    /// <summary>When its last one was.</summary>
    public DateTimeOffset? To { get; init; }

    /// <summary>Its strengths, by print and setting.</summary>
    public IReadOnlyList<EarlierStretch> Stretches { get; init; } = [];

    /// <summary>The group that it pulled as a control; null where it had none.</summary>
    public GroupKey? Control { get; init; }

    /// <summary>Whether a virtual rig measured it: then it is nobody's plastic.</summary>
    public bool Simulated { get; init; }

    /// <summary>Whether it came in a package from elsewhere: then another caliper and another load train measured it.</summary>
    public bool FromElsewhere { get; init; }

    /// <summary>Why its strengths are pooled with this study's, in a person's words; null where they are set against, which is the
    /// rule.</summary>
    public string? PooledBecause { get; init; }

    /// <summary>Whether the scatter between its prints is used where this study has one print of each.</summary>
    public bool GivesScatter { get; init; } = true;

    /// <summary>Its name with the day it was measured: "Fan 2025 (2025-11-02)".</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public string Title => From is { } from ? string.Create(CultureInfo.InvariantCulture, $"{Name} ({from:yyyy-MM-dd})") : Name;
}

/// <summary>One setting on one print of an earlier study.</summary>
public sealed record EarlierStretch
{
    /// <summary>The material.</summary>
    public required string Material { get; init; }

    /// <summary>The condition.</summary>
    public required string Condition { get; init; }

    /// <summary>The setting; null where there is none.</summary>
    public decimal? Setting { get; init; }

    /// <summary>The print's id in its study.</summary>
    public required string Print { get; init; }

    /// <summary>The strengths in MPa, one a specimen, each above 0.</summary>
    public required IReadOnlyList<double> Megapascals { get; init; }

    /// <summary>When the first of them was measured, or imported; null where that is not known.</summary>
    public DateTimeOffset? From { get; init; }

    /// <summary>When the last one was.</summary>
    public DateTimeOffset? To { get; init; }

    /// <summary>How many of them came from a table, without a trace: the last ones.</summary>
    public int Imported { get; init; }

    /// <summary>The calibrations that they were measured under; imported ones have none.</summary>
    public IReadOnlyList<EarlierCalibration> Calibrations { get; init; } = [];
}

/// <summary>A calibration behind strengths.</summary>
/// <param name="Id">The calibration.</param>
/// <param name="Specimens">How many strengths were measured under it.</param>
/// <param name="StandardPercent">Its standard uncertainty in per cent of strength, common to all of them; null where not known.</param>
public sealed record EarlierCalibration(string Id, int Specimens, double? StandardPercent);
