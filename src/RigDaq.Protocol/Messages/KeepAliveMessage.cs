namespace RigDaq.Protocol.Messages;

/// <summary>The control loop lives. Sent by the control loop and by nothing else, at least every 100 ms.</summary>
/// <param name="BootNumber">The start it is meant for; another start ignores it.</param>
/// <param name="Counter">Counts up; the same value twice does not count as life.</param>
public readonly record struct KeepAliveMessage(uint BootNumber, ushort Counter)
{
    /// <summary>Writes the payload.</summary>
    /// <returns>The number of bytes written.</returns>
    public int Write(Span<byte> payload)
    {
        var w = new PayloadWriter(payload, MessageType.KeepAlive);
        w.U32(BootNumber);
        w.U16(Counter);
        return w.Length;
    }

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out KeepAliveMessage message)
    {
        var r = new PayloadReader(payload, MessageType.KeepAlive);
        message = new KeepAliveMessage(r.U32(), r.U16());
        return r.Whole;
    }
}
