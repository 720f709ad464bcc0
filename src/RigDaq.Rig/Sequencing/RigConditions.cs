using RigDaq.Protocol.Messages;
using RigDaq.Rig.Interlocks;

namespace RigDaq.Rig.Sequencing;

/// <summary>What the sequencer knows of the rig.</summary>
internal sealed record RigConditions
{
    /// <summary>What decides about motion.</summary>
    public InterlockFacts Facts { get; init; } = InterlockFacts.Nothing;

    /// <summary>The device's start; 0 while none is known.</summary>
    public uint BootNumber { get; init; }

    /// <summary>Counts how often a calibration was put in force or taken away: what was made under another number holds no more.</summary>
    public int CalibrationNumber { get; init; }

    public bool HasFeeder { get; init; }

    /// <summary>It only measures: a person turns the handle when told to.</summary>
    public bool TurnedByHand => Facts.TurnedByHand;

    public bool HasGuard { get; init; }

    /// <summary>It can find home and has not.</summary>
    public bool NeedsHoming { get; init; }

    public DeviceFaults Faults { get; init; }

    public bool SpecimenLoaded { get; init; }

    public bool FeederEmpty { get; init; }

    /// <summary>In mm from home; null where the device does not know it.</summary>
    public double? PositionMillimetres { get; init; }
}
