namespace RigDaq.Protocol.Messages;

/// <summary>What an event tells. The same facts stand in the state of every block; an event adds when.</summary>
public enum DeviceEventCode : byte
{
    /// <summary>Never sent.</summary>
    None = 0,

    /// <summary>The device started; detail: the faults it starts with.</summary>
    Started = 1,

    /// <summary>A fault latched; detail: its bit.</summary>
    FaultRaised = 2,

    /// <summary>The guard opened.</summary>
    GuardOpened = 3,

    /// <summary>The guard closed.</summary>
    GuardClosed = 4,

    /// <summary>The emergency stop was pressed.</summary>
    EmergencyStopPressed = 5,

    /// <summary>The emergency stop was released.</summary>
    EmergencyStopReleased = 6,

    /// <summary>A motion ended; detail: position in steps.</summary>
    MotionEnded = 7,

    /// <summary>The home position was found; detail: how far it was off, in steps.</summary>
    Homed = 8,

    /// <summary>The feeder put a specimen into the grips; detail: how many it has put in since its start.</summary>
    SpecimenLoaded = 9,

    /// <summary>The feeder is empty.</summary>
    FeederEmpty = 10,
}
