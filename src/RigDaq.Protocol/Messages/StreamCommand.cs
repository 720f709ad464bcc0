namespace RigDaq.Protocol.Messages;

/// <summary>Starts or stops the stream of samples.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="On">Whether samples are sent; the state is sent either way, at least every 100 ms.</param>
/// <param name="RateMillihertz">The wanted rate, or 0 to leave it; only with <see cref="Capabilities.RateSelectable"/>.</param>
public readonly record struct StreamCommand(ushort Command, bool On, uint RateMillihertz)
{
    /// <summary>Writes the payload and gives its length in bytes.</summary>
    public int Write(Span<byte> payload) =>
        new PayloadWriter(payload, MessageType.Stream).U16(Command).U8(On ? (byte)1 : (byte)0).U32(RateMillihertz).Length;

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out StreamCommand message)
    {
        var r = new PayloadReader(payload, MessageType.Stream);
        message = new StreamCommand(r.U16(), r.U8() != 0, r.U32());
        return r.Whole;
    }
}
