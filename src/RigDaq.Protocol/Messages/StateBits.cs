namespace RigDaq.Protocol.Messages;

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
