namespace RigDaq.Protocol.Messages;

/// <summary>How a command was taken. A repeated command gets the same answer again.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="Type">The command's type.</param>
/// <param name="Result">How it was taken.</param>
/// <param name="Detail">For limits that were taken: their id in the low half, the checksum of the command's payload in the high half. For a
/// stream command: the rate in force in mHz, or 0. Else 0.</param>
public readonly record struct AnswerMessage(ushort Command, MessageType Type, AnswerResult Result, uint Detail)
{
    /// <summary>Writes the payload and gives its length in bytes.</summary>
    public int Write(Span<byte> payload) =>
        new PayloadWriter(payload, MessageType.Answer).U16(Command).U8((byte)Type).U8((byte)Result).U32(Detail).Length;

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out AnswerMessage message)
    {
        var r = new PayloadReader(payload, MessageType.Answer);
        message = new AnswerMessage(r.U16(), (MessageType)r.U8(), (AnswerResult)r.U8(), r.U32());
        return r.Whole;
    }
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

    /// <summary>The command's number is older than the last one taken: a repetition that was overtaken, say a motion repeated after the
    /// stop that followed it. Nothing was done.</summary>
    Superseded = 13,
}
