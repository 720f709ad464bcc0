namespace RigDaq.Protocol.Messages;

/// <summary>Asks what a channel is, and switches its values on or off. Its description comes before the answer.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="Channel">Which, from 0.</param>
/// <param name="On">Whether its values are sent while the stream is on.</param>
public readonly record struct ChannelCommand(ushort Command, byte Channel, bool On)
{
    /// <summary>Writes the payload and gives its length in bytes.</summary>
    public int Write(Span<byte> payload) =>
        new PayloadWriter(payload, MessageType.Channel).U16(Command).U8(Channel).U8(On ? (byte)1 : (byte)0).Length;

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out ChannelCommand message)
    {
        var r = new PayloadReader(payload, MessageType.Channel);
        message = new ChannelCommand(r.U16(), r.U8(), r.U8() != 0);
        return r.Whole;
    }
}
