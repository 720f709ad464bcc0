namespace RigDaq.Protocol.Messages;

/// <summary>The control loop lives. Sent by the control loop and by nothing else, at least every 100 ms.</summary>
/// <param name="BootNumber">The start it is meant for; another start ignores it.</param>
/// <param name="Counter">Counts up; the same value twice does not count as life.</param>
public readonly record struct KeepAliveMessage(uint BootNumber, ushort Counter)
{
    /// <summary>Writes the payload and gives its length in bytes.</summary>
    public int Write(Span<byte> payload) => new PayloadWriter(payload, MessageType.KeepAlive).U32(BootNumber).U16(Counter).Length;

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out KeepAliveMessage message)
    {
        var r = new PayloadReader(payload, MessageType.KeepAlive);
        message = new KeepAliveMessage(r.U32(), r.U16());
        return r.Whole;
    }
}
