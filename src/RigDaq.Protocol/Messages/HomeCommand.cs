namespace RigDaq.Protocol.Messages;

/// <summary>Finds the home position, where position is set to 0.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="BootNumber">The start it is meant for.</param>
/// <param name="LimitsId">The limits it relies on.</param>
/// <param name="SpeedStepsPerSecond">Above 0.</param>
public readonly record struct HomeCommand(ushort Command, uint BootNumber, ushort LimitsId, uint SpeedStepsPerSecond)
{
    /// <summary>The payload's length, which a device takes and no other.</summary>
    public const int Bytes = 13;

    /// <summary>Writes the payload and gives its length in bytes.</summary>
    public int Write(Span<byte> payload) =>
        new PayloadWriter(payload, MessageType.Home).U16(Command).U32(BootNumber).U16(LimitsId).U32(SpeedStepsPerSecond).Length;

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out HomeCommand message)
    {
        var r = new PayloadReader(payload, MessageType.Home);
        message = new HomeCommand(r.U16(), r.U32(), r.U16(), r.U32());
        return r.Whole;
    }
}
