namespace RigDaq.Protocol.Messages;

/// <summary>Stops the crosshead; obeyed in any state, whatever else the frame says.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="AtOnce">Without a ramp.</param>
public readonly record struct StopCommand(ushort Command, bool AtOnce)
{
    /// <summary>Writes the payload and gives its length in bytes.</summary>
    public int Write(Span<byte> payload) => new PayloadWriter(payload, MessageType.Stop).U16(Command).U8(AtOnce ? (byte)1 : (byte)0).Length;

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out StopCommand message)
    {
        var r = new PayloadReader(payload, MessageType.Stop);
        message = new StopCommand(r.U16(), r.U8() != 0);
        return r.Whole;
    }
}
