namespace RigDaq.Protocol.Messages;

/// <summary>The first byte of every payload. Types below 0x40 come from the device, from 0x40 up from the host.</summary>
public enum MessageType : byte
{
    /// <summary>No message; never sent.</summary>
    None = 0x00,

    /// <summary>Device: what it is and can do. Sent at start and when asked.</summary>
    Hello = 0x01,

    /// <summary>Device: a block of samples with the full state.</summary>
    Samples = 0x02,

    /// <summary>Device: something happened; repeated until acknowledged.</summary>
    Event = 0x03,

    /// <summary>Device: the answer to a numbered command.</summary>
    Answer = 0x04,

    /// <summary>Device: what a further channel is. Sent when its <see cref="Channel"/> command is taken.</summary>
    ChannelDescription = 0x05,

    /// <summary>Device: values of a further channel.</summary>
    ChannelSamples = 0x06,

    /// <summary>Host: say hello.</summary>
    AskHello = 0x41,

    /// <summary>Host: the control loop lives. Not answered.</summary>
    KeepAlive = 0x42,

    /// <summary>Host: the limits to hold.</summary>
    SetLimits = 0x43,

    /// <summary>Host: move the crosshead.</summary>
    Move = 0x44,

    /// <summary>Host: stop. Always obeyed.</summary>
    Stop = 0x45,

    /// <summary>Host: find the home position.</summary>
    Home = 0x46,

    /// <summary>Host: an event was received. Not answered.</summary>
    AcknowledgeEvent = 0x47,

    /// <summary>Host: clear latched faults whose cause is gone.</summary>
    ClearFaults = 0x48,

    /// <summary>Host: put the next specimen into the grips (devices with a feeder).</summary>
    Feed = 0x49,

    /// <summary>Host: start or stop the stream of samples, and its rate.</summary>
    Stream = 0x4A,

    /// <summary>Host: describe a further channel, and switch its values on or off.</summary>
    Channel = 0x4B,
}
