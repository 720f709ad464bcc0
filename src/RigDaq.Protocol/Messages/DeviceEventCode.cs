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

/// <summary>How a command was taken.</summary>
public enum AnswerResult : byte
{
    /// <summary>Done, or begun where it takes time.</summary>
    Done = 0,

    /// <summary>The type is not known here.</summary>
    UnknownType = 1,

    /// <summary>The body is too short or a value is out of range.</summary>
    BadValue = 2,

    /// <summary>The boot number is not this start's.</summary>
    WrongBoot = 3,

    /// <summary>No limits are confirmed, or the id is not that of the limits in force.</summary>
    WrongLimits = 4,

    /// <summary>A fault is latched.</summary>
    Faulted = 5,

    /// <summary>The guard is open.</summary>
    GuardOpen = 6,

    /// <summary>The emergency stop is pressed.</summary>
    EmergencyStopPressed = 7,

    /// <summary>No keep-alive has come yet, or not in time.</summary>
    NoKeepAlive = 8,

    /// <summary>Something else is in motion.</summary>
    Busy = 9,

    /// <summary>The device has no such capability.</summary>
    NotCapable = 10,

    /// <summary>The target lies outside the limits.</summary>
    OutsideLimits = 11,

    /// <summary>The home position is not known.</summary>
    NotHomed = 12,

    /// <summary>
    /// The command's number is older than the last one taken: a repetition that was overtaken, say a motion
    /// repeated after the stop that followed it. Nothing was done.
    /// </summary>
    Superseded = 13,
}
