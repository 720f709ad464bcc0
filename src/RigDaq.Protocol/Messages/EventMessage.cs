namespace RigDaq.Protocol.Messages;

/// <summary>Something happened; sent again every 100 ms until it is acknowledged.</summary>
/// <param name="Number">Counts events since the start, from 1, skipping 0 when it wraps.</param>
/// <param name="Code">What happened.</param>
/// <param name="StampMicroseconds">When, on the device's clock.</param>
/// <param name="Detail">As the code says.</param>
public readonly record struct EventMessage(ushort Number, DeviceEventCode Code, uint StampMicroseconds, int Detail)
{
    /// <summary>Of a Started event: why the device started.</summary>
    public StartCauses StartedBecause => (StartCauses)unchecked((ushort)(Detail >> 16));

    /// <summary>Writes the payload.</summary>
    /// <returns>The number of bytes written.</returns>
    public int Write(Span<byte> payload)
    {
        var w = new PayloadWriter(payload, MessageType.Event);
        w.U16(Number);
        w.U8((byte)Code);
        w.U32(StampMicroseconds);
        w.I32(Detail);
        return w.Length;
    }

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out EventMessage message)
    {
        var r = new PayloadReader(payload, MessageType.Event);
        message = new EventMessage(r.U16(), (DeviceEventCode)r.U8(), r.U32(), r.I32());
        return r.Whole;
    }
}

/// <summary>How a command was taken. A repeated command gets the same answer again.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="Type">The command's type.</param>
/// <param name="Result">How it was taken.</param>
/// <param name="Detail">
/// For limits that were taken: their id in the low half, the checksum of the command's payload in the high half. For a stream command:
/// the rate in force in mHz, or 0. Else 0.
/// </param>
public readonly record struct AnswerMessage(ushort Command, MessageType Type, AnswerResult Result, uint Detail)
{
    /// <summary>Writes the payload.</summary>
    /// <returns>The number of bytes written.</returns>
    public int Write(Span<byte> payload)
    {
        var w = new PayloadWriter(payload, MessageType.Answer);
        w.U16(Command);
        w.U8((byte)Type);
        w.U8((byte)Result);
        w.U32(Detail);
        return w.Length;
    }

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out AnswerMessage message)
    {
        var r = new PayloadReader(payload, MessageType.Answer);
        message = new AnswerMessage(r.U16(), (MessageType)r.U8(), (AnswerResult)r.U8(), r.U32());
        return r.Whole;
    }
}
