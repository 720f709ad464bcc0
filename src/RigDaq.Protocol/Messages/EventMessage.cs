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

    /// <summary>Writes the payload and gives its length in bytes.</summary>
    public int Write(Span<byte> payload) =>
        new PayloadWriter(payload, MessageType.Event).U16(Number).U8((byte)Code).U32(StampMicroseconds).I32(Detail).Length;

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out EventMessage message)
    {
        var r = new PayloadReader(payload, MessageType.Event);
        message = new EventMessage(r.U16(), (DeviceEventCode)r.U8(), r.U32(), r.I32());
        return r.Whole;
    }
}
