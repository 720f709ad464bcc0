namespace RigDaq.Protocol.Messages;

/// <summary>The full state of a device, repeated in every block so that no lost event can hide one.</summary>
/// <param name="BootNumber">This start's number.</param>
/// <param name="Inputs">The inputs now.</param>
/// <param name="Motion">What the crosshead does.</param>
/// <param name="Flags">Further bits.</param>
/// <param name="Faults">The latched faults.</param>
/// <param name="LimitsId">The limits in force; 0 where none are confirmed.</param>
/// <param name="LastCommand">The number of the last command that was answered.</param>
/// <param name="PendingEvent">The number of the oldest event not acknowledged; 0 where there is none.</param>
public readonly record struct DeviceState(uint BootNumber, InputStates Inputs, MotionState Motion, StateBits Flags, DeviceFaults Faults,
    ushort LimitsId, ushort LastCommand, ushort PendingEvent)
{
    /// <summary>The bytes that the state takes in a block.</summary>
    public const int Bytes = 16;

    internal void Write(ref PayloadWriter w) => w.U32(BootNumber).U16((ushort)Inputs).U8((byte)Motion).U8((byte)Flags).U16((ushort)Faults)
        .U16(LimitsId).U16(LastCommand).U16(PendingEvent);

    internal static DeviceState Read(ref PayloadReader r) =>
        new(r.U32(), (InputStates)r.U16(), (MotionState)r.U8(), (StateBits)r.U8(), (DeviceFaults)r.U16(), r.U16(), r.U16(), r.U16());
}
