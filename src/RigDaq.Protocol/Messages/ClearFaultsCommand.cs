namespace RigDaq.Protocol.Messages;

/// <summary>Clears latched faults whose cause is gone; the others stay.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="BootNumber">The start it is meant for.</param>
/// <param name="Faults">Which.</param>
public readonly record struct ClearFaultsCommand(ushort Command, uint BootNumber, DeviceFaults Faults)
{
    /// <summary>Writes the payload and gives its length in bytes.</summary>
    public int Write(Span<byte> payload) =>
        new PayloadWriter(payload, MessageType.ClearFaults).U16(Command).U32(BootNumber).U16((ushort)Faults).Length;

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out ClearFaultsCommand message)
    {
        var r = new PayloadReader(payload, MessageType.ClearFaults);
        message = new ClearFaultsCommand(r.U16(), r.U32(), (DeviceFaults)r.U16());
        return r.Whole;
    }
}
