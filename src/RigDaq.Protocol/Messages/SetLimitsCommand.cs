namespace RigDaq.Protocol.Messages;

/// <summary>The limits that the device holds by itself. Each lies inside the device's hard limits.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="LimitsId">A new number for these limits, not 0.</param>
/// <param name="ForceCountsMin">The lowest force, in absolute counts (compression and the wrong sign).</param>
/// <param name="ForceCountsMax">The greatest force, in absolute counts.</param>
/// <param name="TravelStepsMin">The lowest position, in steps from home.</param>
/// <param name="TravelStepsMax">The greatest position, in steps from home.</param>
/// <param name="SpeedStepsPerSecondMax">The greatest speed.</param>
/// <param name="AccelerationStepsPerSecondSquaredMax">The greatest acceleration.</param>
/// <param name="MotionMillisecondsMax">How long one motion may last.</param>
public readonly record struct SetLimitsCommand(ushort Command, ushort LimitsId, int ForceCountsMin, int ForceCountsMax, int TravelStepsMin,
    int TravelStepsMax, uint SpeedStepsPerSecondMax, uint AccelerationStepsPerSecondSquaredMax, uint MotionMillisecondsMax)
{
    /// <summary>The payload's length, which a device takes and no other.</summary>
    public const int Bytes = 33;

    /// <summary>Writes the payload and gives its length in bytes.</summary>
    public int Write(Span<byte> payload) => new PayloadWriter(payload, MessageType.SetLimits).U16(Command).U16(LimitsId).I32(ForceCountsMin)
        .I32(ForceCountsMax).I32(TravelStepsMin).I32(TravelStepsMax).U32(SpeedStepsPerSecondMax).U32(AccelerationStepsPerSecondSquaredMax)
        .U32(MotionMillisecondsMax).Length;

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out SetLimitsCommand message)
    {
        var r = new PayloadReader(payload, MessageType.SetLimits);
        message = new SetLimitsCommand(r.U16(), r.U16(), r.I32(), r.I32(), r.I32(), r.I32(), r.U32(), r.U32(), r.U32());
        return r.Whole;
    }
}
