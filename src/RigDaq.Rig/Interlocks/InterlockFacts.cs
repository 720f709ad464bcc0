using RigDaq.Text;

namespace RigDaq.Rig.Interlocks;

/// <summary>All that decides whether the crosshead may move, at one instant.</summary>
public sealed record InterlockFacts
{
    /// <summary>Nothing is known: nothing may move.</summary>
    public static InterlockFacts Nothing { get; } = new();

    /// <summary>The link is open and bytes arrive.</summary>
    public bool LinkUp { get; init; }

    /// <summary>Why it is not, may be empty.</summary>
    public Sentence LinkMessage { get; init; } = Sentence.None;

    /// <summary>The device has said hello and is of a version that is understood.</summary>
    public bool DeviceKnown { get; init; }

    /// <summary>It has a motor.</summary>
    public bool CanMove { get; init; }

    /// <summary>It only measures, and a person turns the handle: nothing is ever commanded to move.</summary>
    public bool TurnedByHand => DeviceKnown && !CanMove;

    /// <summary>It is a virtual rig: nothing real moves.</summary>
    public bool Simulated { get; init; }

    /// <summary>The guard is closed; true where the device has no guard input (a person then confirms each pull).</summary>
    public bool GuardClosed { get; init; }

    /// <summary>The emergency stop is released; true where the device has no such input.</summary>
    public bool EmergencyStopReleased { get; init; }

    /// <summary>The converter delivers fresh conversions.</summary>
    public bool ConverterAlive { get; init; }

    /// <summary>The latched faults in words.</summary>
    public IReadOnlyList<Sentence> FaultWords { get; init; } = [];

    /// <summary>A calibration for this device is in force and has not ended.</summary>
    public bool CalibrationInForce { get; init; }

    /// <summary>Its greatest reference force is at least the force limit.</summary>
    public bool CalibrationCoversForceLimit { get; init; }

    /// <summary>A person has accepted for this sequence that the calibration does not cover the force limit.</summary>
    public bool AcceptedBeyondCalibration { get; init; }

    /// <summary>What the check weight's chart says.</summary>
    public CheckWeightVerdict CheckWeight { get; init; }

    /// <summary>The cautions were acknowledged for this sequence (or for hand motion).</summary>
    public bool CautionsAcknowledged { get; init; }

    /// <summary>A person has said today, or before this sequence began, that the emergency stop was tried and took the motor's
    /// power.</summary>
    public bool EmergencyStopTested { get; init; }

    /// <summary>The limits now wanted were sent and confirmed by the device, and its blocks say that they are in force.</summary>
    public bool LimitsConfirmed { get; init; }
}
