namespace RigDaq.Protocol.Messages;

/// <summary>Puts the next specimen into the grips; a motion like any other.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="BootNumber">The start it is meant for.</param>
/// <param name="LimitsId">The limits it relies on.</param>
public readonly record struct FeedCommand(ushort Command, uint BootNumber, ushort LimitsId)
{
    /// <summary>The payload's length, which a device takes and no other.</summary>
    public const int Bytes = 9;

    /// <summary>Writes the payload and gives its length in bytes.</summary>
    public int Write(Span<byte> payload) => new PayloadWriter(payload, MessageType.Feed).U16(Command).U32(BootNumber).U16(LimitsId).Length;

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out FeedCommand message)
    {
        var r = new PayloadReader(payload, MessageType.Feed);
        message = new FeedCommand(r.U16(), r.U32(), r.U16());
        return r.Whole;
    }
}
