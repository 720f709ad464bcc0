namespace RigDaq.Protocol.Messages;

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
