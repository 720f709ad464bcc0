namespace RigDaq.Protocol.Messages;

/// <summary>Moves the crosshead. Positive is apart: it pulls.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="BootNumber">The start it is meant for.</param>
/// <param name="LimitsId">The limits it relies on.</param>
/// <param name="Kind">How it ends.</param>
/// <param name="SpeedStepsPerSecond">With its sign.</param>
/// <param name="AccelerationStepsPerSecondSquared">Above 0.</param>
/// <param name="TargetSteps">For <see cref="MoveKind.Position"/>.</param>
public readonly record struct MoveCommand(ushort Command, uint BootNumber, ushort LimitsId, MoveKind Kind, int SpeedStepsPerSecond,
    uint AccelerationStepsPerSecondSquared, int TargetSteps)
{
    /// <summary>The payload's length, which a device takes and no other.</summary>
    public const int Bytes = 22;

    /// <summary>Writes the payload and gives its length in bytes.</summary>
    public int Write(Span<byte> payload) => new PayloadWriter(payload, MessageType.Move).U16(Command).U32(BootNumber).U16(LimitsId)
        .U8((byte)Kind).I32(SpeedStepsPerSecond).U32(AccelerationStepsPerSecondSquared).I32(TargetSteps).Length;

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out MoveCommand message)
    {
        var r = new PayloadReader(payload, MessageType.Move);
        message = new MoveCommand(r.U16(), r.U32(), r.U16(), (MoveKind)r.U8(), r.I32(), r.U32(), r.I32());
        return r.Whole;
    }
}

/// <summary>How a motion finds its end.</summary>
public enum MoveKind : byte
{
    /// <summary>On and on in the direction of the speed's sign, until it is stopped or a limit is reached.</summary>
    Speed = 0,

    /// <summary>To a position, then it ends by itself; the speed is taken without its sign.</summary>
    Position = 1,

    /// <summary>Back out of a jam, slowly, a few millimetres and for 300 ms; needs <see cref="Capabilities.Release"/>.</summary>
    Release = 2,
}
