namespace RigDaq.Protocol.Messages;

/// <summary>Opens a session: whatever its number, it is taken, answered and followed by a hello, and later commands count on from its
/// number.</summary>
/// <param name="Command">The command's number, from 1.</param>
/// <param name="VersionMajor">The version that the host speaks.</param>
/// <param name="VersionMinor">The newest minor version that it knows; a host before 1.1 does not say and counts as 1.0.</param>
public readonly record struct AskHelloCommand(ushort Command, byte VersionMajor, byte VersionMinor)
{
    /// <summary>Of a host that speaks this library's version.</summary>
    /// <param name="command">The command's number.</param>
    public AskHelloCommand(ushort command) : this(command, HelloMessage.MajorVersion, HelloMessage.MinorVersion)
    {
    }

    /// <summary>Writes the payload and gives its length in bytes.</summary>
    public int Write(Span<byte> payload) =>
        new PayloadWriter(payload, MessageType.AskHello).U16(Command).U8(VersionMajor).U8(VersionMinor).Length;

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out AskHelloCommand message)
    {
        var r = new PayloadReader(payload, MessageType.AskHello);
        ushort command = r.U16();
        if (r.Left >= 2) message = new AskHelloCommand(command, r.U8(), r.U8());
        else message = new AskHelloCommand(command, HelloMessage.MajorVersion, 0);
        return r.Whole;
    }
}
