namespace RigDaq.Protocol.Messages;

/// <summary>An event was received and need not be repeated.</summary>
/// <param name="BootNumber">The start it came from.</param>
/// <param name="Number">The event's number.</param>
public readonly record struct AcknowledgeEventMessage(uint BootNumber, ushort Number)
{
    /// <summary>Writes the payload and gives its length in bytes.</summary>
    public int Write(Span<byte> payload) => new PayloadWriter(payload, MessageType.AcknowledgeEvent).U32(BootNumber).U16(Number).Length;

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out AcknowledgeEventMessage message)
    {
        var r = new PayloadReader(payload, MessageType.AcknowledgeEvent);
        message = new AcknowledgeEventMessage(r.U32(), r.U16());
        return r.Whole;
    }
}
