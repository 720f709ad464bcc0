namespace RigDaq.Protocol.Messages;

/// <summary>
/// Opens a session: whatever its number, it is taken, answered and followed by a hello, and later commands count on from its number.
/// </summary>
/// <param name="Command">The command's number, from 1.</param>
/// <param name="VersionMajor">The version that the host speaks.</param>
/// <param name="VersionMinor">The newest minor version that it knows; a host before 1.1 does not say and counts as 1.0.</param>
public readonly record struct AskHelloCommand(ushort Command, byte VersionMajor, byte VersionMinor)
{
    /// <summary>Of a host that speaks this library's version.</summary>
    /// <param name="command">The command's number.</param>
    public AskHelloCommand(ushort command)
        : this(command, HelloMessage.MajorVersion, HelloMessage.MinorVersion)
    {
    }

    /// <summary>Writes the payload.</summary>
    /// <returns>The number of bytes written.</returns>
    public int Write(Span<byte> payload)
    {
        var w = new PayloadWriter(payload, MessageType.AskHello);
        w.U16(Command);
        w.U8(VersionMajor);
        w.U8(VersionMinor);
        return w.Length;
    }

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

/// <summary>The control loop lives. Sent by the control loop and by nothing else, at least every 100 ms.</summary>
/// <param name="BootNumber">The start it is meant for; another start ignores it.</param>
/// <param name="Counter">Counts up; the same value twice does not count as life.</param>
public readonly record struct KeepAliveMessage(uint BootNumber, ushort Counter)
{
    /// <summary>Writes the payload.</summary>
    /// <returns>The number of bytes written.</returns>
    public int Write(Span<byte> payload)
    {
        var w = new PayloadWriter(payload, MessageType.KeepAlive);
        w.U32(BootNumber);
        w.U16(Counter);
        return w.Length;
    }

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out KeepAliveMessage message)
    {
        var r = new PayloadReader(payload, MessageType.KeepAlive);
        message = new KeepAliveMessage(r.U32(), r.U16());
        return r.Whole;
    }
}

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
public readonly record struct SetLimitsCommand(
    ushort Command,
    ushort LimitsId,
    int ForceCountsMin,
    int ForceCountsMax,
    int TravelStepsMin,
    int TravelStepsMax,
    uint SpeedStepsPerSecondMax,
    uint AccelerationStepsPerSecondSquaredMax,
    uint MotionMillisecondsMax)
{
    /// <summary>The payload's length, which a device takes and no other.</summary>
    public const int Bytes = 33;

    /// <summary>Writes the payload.</summary>
    /// <returns>The number of bytes written.</returns>
    public int Write(Span<byte> payload)
    {
        var w = new PayloadWriter(payload, MessageType.SetLimits);
        w.U16(Command);
        w.U16(LimitsId);
        w.I32(ForceCountsMin);
        w.I32(ForceCountsMax);
        w.I32(TravelStepsMin);
        w.I32(TravelStepsMax);
        w.U32(SpeedStepsPerSecondMax);
        w.U32(AccelerationStepsPerSecondSquaredMax);
        w.U32(MotionMillisecondsMax);
        return w.Length;
    }

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out SetLimitsCommand message)
    {
        var r = new PayloadReader(payload, MessageType.SetLimits);
        message = new SetLimitsCommand(r.U16(), r.U16(), r.I32(), r.I32(), r.I32(), r.I32(), r.U32(), r.U32(), r.U32());
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

/// <summary>Moves the crosshead. Positive is apart: it pulls.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="BootNumber">The start it is meant for.</param>
/// <param name="LimitsId">The limits it relies on.</param>
/// <param name="Kind">How it ends.</param>
/// <param name="SpeedStepsPerSecond">With its sign.</param>
/// <param name="AccelerationStepsPerSecondSquared">Above 0.</param>
/// <param name="TargetSteps">For <see cref="MoveKind.Position"/>.</param>
public readonly record struct MoveCommand(
    ushort Command,
    uint BootNumber,
    ushort LimitsId,
    MoveKind Kind,
    int SpeedStepsPerSecond,
    uint AccelerationStepsPerSecondSquared,
    int TargetSteps)
{
    /// <summary>The payload's length, which a device takes and no other.</summary>
    public const int Bytes = 22;

    /// <summary>Writes the payload.</summary>
    /// <returns>The number of bytes written.</returns>
    public int Write(Span<byte> payload)
    {
        var w = new PayloadWriter(payload, MessageType.Move);
        w.U16(Command);
        w.U32(BootNumber);
        w.U16(LimitsId);
        w.U8((byte)Kind);
        w.I32(SpeedStepsPerSecond);
        w.U32(AccelerationStepsPerSecondSquared);
        w.I32(TargetSteps);
        return w.Length;
    }

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out MoveCommand message)
    {
        var r = new PayloadReader(payload, MessageType.Move);
        message = new MoveCommand(r.U16(), r.U32(), r.U16(), (MoveKind)r.U8(), r.I32(), r.U32(), r.I32());
        return r.Whole;
    }
}

/// <summary>Stops the crosshead; obeyed in any state, whatever else the frame says.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="AtOnce">Without a ramp.</param>
public readonly record struct StopCommand(ushort Command, bool AtOnce)
{
    /// <summary>Writes the payload.</summary>
    /// <returns>The number of bytes written.</returns>
    public int Write(Span<byte> payload)
    {
        var w = new PayloadWriter(payload, MessageType.Stop);
        w.U16(Command);
        w.U8(AtOnce ? (byte)1 : (byte)0);
        return w.Length;
    }

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out StopCommand message)
    {
        var r = new PayloadReader(payload, MessageType.Stop);
        message = new StopCommand(r.U16(), r.U8() != 0);
        return r.Whole;
    }
}

/// <summary>Finds the home position, where position is set to 0.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="BootNumber">The start it is meant for.</param>
/// <param name="LimitsId">The limits it relies on.</param>
/// <param name="SpeedStepsPerSecond">Above 0.</param>
public readonly record struct HomeCommand(ushort Command, uint BootNumber, ushort LimitsId, uint SpeedStepsPerSecond)
{
    /// <summary>The payload's length, which a device takes and no other.</summary>
    public const int Bytes = 13;

    /// <summary>Writes the payload.</summary>
    /// <returns>The number of bytes written.</returns>
    public int Write(Span<byte> payload)
    {
        var w = new PayloadWriter(payload, MessageType.Home);
        w.U16(Command);
        w.U32(BootNumber);
        w.U16(LimitsId);
        w.U32(SpeedStepsPerSecond);
        return w.Length;
    }

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out HomeCommand message)
    {
        var r = new PayloadReader(payload, MessageType.Home);
        message = new HomeCommand(r.U16(), r.U32(), r.U16(), r.U32());
        return r.Whole;
    }
}

/// <summary>An event was received and need not be repeated.</summary>
/// <param name="BootNumber">The start it came from.</param>
/// <param name="Number">The event's number.</param>
public readonly record struct AcknowledgeEventMessage(uint BootNumber, ushort Number)
{
    /// <summary>Writes the payload.</summary>
    /// <returns>The number of bytes written.</returns>
    public int Write(Span<byte> payload)
    {
        var w = new PayloadWriter(payload, MessageType.AcknowledgeEvent);
        w.U32(BootNumber);
        w.U16(Number);
        return w.Length;
    }

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out AcknowledgeEventMessage message)
    {
        var r = new PayloadReader(payload, MessageType.AcknowledgeEvent);
        message = new AcknowledgeEventMessage(r.U32(), r.U16());
        return r.Whole;
    }
}

/// <summary>Clears latched faults whose cause is gone; the others stay.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="BootNumber">The start it is meant for.</param>
/// <param name="Faults">Which.</param>
public readonly record struct ClearFaultsCommand(ushort Command, uint BootNumber, DeviceFaults Faults)
{
    /// <summary>Writes the payload.</summary>
    /// <returns>The number of bytes written.</returns>
    public int Write(Span<byte> payload)
    {
        var w = new PayloadWriter(payload, MessageType.ClearFaults);
        w.U16(Command);
        w.U32(BootNumber);
        w.U16((ushort)Faults);
        return w.Length;
    }

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out ClearFaultsCommand message)
    {
        var r = new PayloadReader(payload, MessageType.ClearFaults);
        message = new ClearFaultsCommand(r.U16(), r.U32(), (DeviceFaults)r.U16());
        return r.Whole;
    }
}

/// <summary>Puts the next specimen into the grips; a motion like any other.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="BootNumber">The start it is meant for.</param>
/// <param name="LimitsId">The limits it relies on.</param>
public readonly record struct FeedCommand(ushort Command, uint BootNumber, ushort LimitsId)
{
    /// <summary>The payload's length, which a device takes and no other.</summary>
    public const int Bytes = 9;

    /// <summary>Writes the payload.</summary>
    /// <returns>The number of bytes written.</returns>
    public int Write(Span<byte> payload)
    {
        var w = new PayloadWriter(payload, MessageType.Feed);
        w.U16(Command);
        w.U32(BootNumber);
        w.U16(LimitsId);
        return w.Length;
    }

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out FeedCommand message)
    {
        var r = new PayloadReader(payload, MessageType.Feed);
        message = new FeedCommand(r.U16(), r.U32(), r.U16());
        return r.Whole;
    }
}

/// <summary>Starts or stops the stream of samples.</summary>
/// <param name="Command">The command's number.</param>
/// <param name="On">Whether samples are sent; the state is sent either way, at least every 100 ms.</param>
/// <param name="RateMillihertz">The wanted rate, or 0 to leave it; only with <see cref="Capabilities.RateSelectable"/>.</param>
public readonly record struct StreamCommand(ushort Command, bool On, uint RateMillihertz)
{
    /// <summary>Writes the payload.</summary>
    /// <returns>The number of bytes written.</returns>
    public int Write(Span<byte> payload)
    {
        var w = new PayloadWriter(payload, MessageType.Stream);
        w.U16(Command);
        w.U8(On ? (byte)1 : (byte)0);
        w.U32(RateMillihertz);
        return w.Length;
    }

    /// <summary>Reads a payload.</summary>
    public static bool TryRead(ReadOnlySpan<byte> payload, out StreamCommand message)
    {
        var r = new PayloadReader(payload, MessageType.Stream);
        message = new StreamCommand(r.U16(), r.U8() != 0, r.U32());
        return r.Whole;
    }
}
