using RigDaq.Core.Pulls;

namespace RigDaq.Rig.Sequencing;

/// <summary>An ordered list of specimens to be pulled without a hand on the keyboard.</summary>
public sealed record SequencePlan
{
    /// <summary>The longest list.</summary>
    public const int SpecimensMax = 10_000;

    /// <summary>The sequence's id: a version 7 UUID in its usual text form. The cautions are acknowledged for it.</summary>
    public required string SequenceId { get; init; }

    /// <summary>The study that the specimens belong to.</summary>
    public required string StudyId { get; init; }

    /// <summary>The specimens' labels in the order of breaking; each once.</summary>
    public required IReadOnlyList<string> SpecimenIds { get; init; }

    /// <summary>How each is pulled.</summary>
    public PullSettings Settings { get; init; } = new();

    /// <summary>Where a specimen is put in: the distance between the grips in mm. Null: where the crosshead stands at the start.</summary>
    public double? StartGripSeparationMillimetres { get; init; }

    /// <summary>How long a pull is announced after the guard was closed or a person confirmed; wall time. Not used with a feeder.</summary>
    public TimeSpan AnnouncedDelay { get; init; } = AnnouncedDelayDefault;

    /// <summary>The announced delay where none is set.</summary>
    public static TimeSpan AnnouncedDelayDefault { get; } = TimeSpan.FromSeconds(5);

    /// <summary>The shortest announced delay.</summary>
    public static TimeSpan AnnouncedDelayMin { get; } = TimeSpan.FromSeconds(2);

    /// <summary>The longest announced delay.</summary>
    public static TimeSpan AnnouncedDelayMax { get; } = TimeSpan.FromMinutes(2);

    /// <summary>A person has accepted that the calibration does not cover the force limit; the forces above it are extrapolated. Without
    /// any calibration nothing is pulled.</summary>
    public bool AcceptBeyondCalibration { get; init; }

    /// <summary>A clamping force above this, in newtons either way, is relieved by moving the crosshead before the pull; it is never tared
    /// away. Null: the preload.</summary>
    public double? ClampingForceMaxNewtons { get; init; }
}
