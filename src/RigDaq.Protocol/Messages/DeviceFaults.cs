namespace RigDaq.Protocol.Messages;

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
