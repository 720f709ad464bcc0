namespace RigDaq.Protocol.Messages;

/// <summary>The state of the inputs, in every block of samples.</summary>
[Flags]
public enum InputStates : ushort
{
    /// <summary>None is active.</summary>
    None = 0,

    /// <summary>The guard is closed.</summary>
    GuardClosed = 1 << 0,

    /// <summary>The emergency stop is released: motion is not forbidden by it.</summary>
    EmergencyStopReleased = 1 << 1,

    /// <summary>The lower travel limit (grips together) is reached.</summary>
    LowerLimit = 1 << 2,

    /// <summary>The upper travel limit (grips apart) is reached.</summary>
    UpperLimit = 1 << 3,

    /// <summary>The converter delivers fresh conversions.</summary>
    ConverterAlive = 1 << 4,

    /// <summary>The feeder reports a specimen in the grips.</summary>
    SpecimenLoaded = 1 << 5,

    /// <summary>The feeder has no specimen left.</summary>
    FeederEmpty = 1 << 6,
}
