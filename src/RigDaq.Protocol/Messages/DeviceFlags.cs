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

/// <summary>What the crosshead does.</summary>
public enum MotionState : byte
{
    /// <summary>It stands.</summary>
    Still = 0,

    /// <summary>It moves as commanded.</summary>
    Moving = 1,

    /// <summary>It slows down to a stop.</summary>
    Stopping = 2,

    /// <summary>It looks for the home position.</summary>
    Homing = 3,

    /// <summary>The feeder is at work.</summary>
    Feeding = 4,
}

/// <summary>Why a device started, as the upper half of its Started event's detail says; none where it does not know.</summary>
[Flags]
public enum StartCauses : ushort
{
    /// <summary>The device does not say.</summary>
    None = 0,

    /// <summary>Its watchdog: the program had hung.</summary>
    Watchdog = 1,

    /// <summary>Its power came on.</summary>
    PowerOn = 2,

    /// <summary>Its supply sagged.</summary>
    BrownOut = 4,

    /// <summary>Its reset pin: a button, or a serial port that was opened.</summary>
    ResetPin = 8,

    /// <summary>With the power on, and what reset it is not known.</summary>
    Untold = 16,

    /// <summary>By its watchdog for the third time in a row: it stands until it is switched off.</summary>
    Held = 128,
}

/// <summary>Faults; each latches and forbids motion until it is cleared and its cause is gone.</summary>
[Flags]
public enum DeviceFaults : ushort
{
    /// <summary>None.</summary>
    None = 0,

    /// <summary>No keep-alive for 500 ms while it mattered.</summary>
    KeepAliveLost = 1 << 0,

    /// <summary>The guard was opened during motion.</summary>
    GuardOpened = 1 << 1,

    /// <summary>The emergency stop was pressed.</summary>
    EmergencyStop = 1 << 2,

    /// <summary>The force left its limits.</summary>
    ForceLimit = 1 << 3,

    /// <summary>The crosshead left its limits, or a limit input closed.</summary>
    TravelLimit = 1 << 4,

    /// <summary>A motion lasted longer than its limit.</summary>
    TimeLimit = 1 << 5,

    /// <summary>The converter stopped delivering or stands at its end stop.</summary>
    Converter = 1 << 6,

    /// <summary>The motor driver reports a fault.</summary>
    Driver = 1 << 7,

    /// <summary>The device restarted by its watchdog.</summary>
    Watchdog = 1 << 8,
}

/// <summary>Further bits of the state in every block.</summary>
[Flags]
public enum StateBits : byte
{
    /// <summary>None.</summary>
    None = 0,

    /// <summary>The home position is known: position has a meaning.</summary>
    Homed = 1 << 0,

    /// <summary>The motor is powered.</summary>
    MotorEnabled = 1 << 1,

    /// <summary>Blocks were dropped because the line was full.</summary>
    BlocksDropped = 1 << 2,
}
