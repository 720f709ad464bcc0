namespace RigDaq.Protocol.Messages;

/// <summary>What a device can do, as its hello says.</summary>
[Flags]
public enum Capabilities : uint
{
    /// <summary>It only measures.</summary>
    None = 0,

    /// <summary>It moves the crosshead.</summary>
    Motion = 1 << 0,

    /// <summary>It knows where the crosshead is.</summary>
    Position = 1 << 1,

    /// <summary>It has a guard input.</summary>
    Guard = 1 << 2,

    /// <summary>It has an emergency-stop input (the cut of motor power itself is hardware).</summary>
    EmergencyStop = 1 << 3,

    /// <summary>It has travel-limit inputs.</summary>
    TravelLimits = 1 << 4,

    /// <summary>It can find a home position.</summary>
    Homing = 1 << 5,

    /// <summary>It can put the next specimen into the grips by itself.</summary>
    Feeder = 1 << 6,

    /// <summary>Its sample rate can be set.</summary>
    RateSelectable = 1 << 7,

    /// <summary>It is simulated: nothing real moves. Only such a device runs without a person's acknowledgement.</summary>
    Simulated = 1 << 8,

    /// <summary>It has channels besides the force: <see cref="HelloMessage.Channels"/>.</summary>
    Channels = 1 << 9,

    /// <summary>Lets go of what is jammed: a move of kind <see cref="MoveKind.Release"/>.</summary>
    Release = 1 << 10,
}
