using System.Buffers.Binary;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual.Device;

/// <summary>Takes the host's messages: judges their numbers, checks them in the order of PROTOCOL.md, 6, does what they say and
/// answers.</summary>
internal sealed class CommandHandler(DeviceContext device, MotionControl motion, ForceWatch force, Sampler sampler, EventLog events,
    FrameOutbox outbox, ChannelBlocks channels)
{
    private const byte FirstCommandType = 0x40;
    private const byte LastCommandType = 0x6F;
    /// <summary>Under these a rig stands jammed and must be able to let go.</summary>
    private const DeviceFaults ToRelease =
        DeviceFaults.ForceLimit | DeviceFaults.TravelLimit | DeviceFaults.TimeLimit | DeviceFaults.Converter;

    private readonly AnswerMemory _memory = new();

    /// <summary>The number of the last command taken; 0 for none.</summary>
    public ushort LastCommand => _memory.LastCommand;

    /// <summary>A restart.</summary>
    public void Clear() => _memory.Clear();

    /// <summary>Takes one payload.</summary>
    public void Take(ReadOnlySpan<byte> payload)
    {
        var type = (MessageType)payload[0];
        switch (type)
        {
            case MessageType.KeepAlive:
                if (KeepAliveMessage.TryRead(payload, out KeepAliveMessage life)) device.TakeKeepAlive(life);
                break;
            case MessageType.AcknowledgeEvent:
                if (AcknowledgeEventMessage.TryRead(payload, out AcknowledgeEventMessage received)
                    && received.BootNumber == device.BootNumber)
                    events.Acknowledge(received.Number);
                break;
            case >= (MessageType)FirstCommandType and <= (MessageType)LastCommandType:
                TakeCommand(type, payload);
                break;
            default:
                break;
        }
    }

    /// <summary>Says what the device is.</summary>
    public void SayHello()
    {
        VirtualRigOptions options = device.Options;
        double steps = options.StepsPerMillimetre;
        var hello = new HelloMessage
        {
            VersionMajor = HelloMessage.MajorVersion,
            VersionMinor = HelloMessage.MinorVersion,
            BootNumber = device.BootNumber,
            DeviceId = options.DeviceId,
            FirmwareVersion = options.FirmwareVersion,
            Capabilities = options.Capabilities,
            ConverterRateMillihertz = sampler.RateMillihertz,
            ConverterBits = (byte)options.ConverterBits,
            ConverterDelayMicroseconds = (uint)Math.Round(sampler.DelaySeconds * 1e6),
            StepsPerMetre = options.HasMotion ? (uint)Math.Round(steps * 1000) : 0,
            HardForceCountsMin = HardForceCountsMin,
            HardForceCountsMax = HardForceCountsMax,
            HardTravelStepsMin = device.HardTravelStepsMin,
            HardTravelStepsMax = device.HardTravelStepsMax,
            HardSpeedStepsPerSecondMax = HardSpeed,
            HardAccelerationStepsPerSecondSquaredMax = HardAcceleration,
            Name = options.DeviceName,
            Channels = (byte)channels.Count,
            LineBytesPerSecond = options.LineBytesPerSecond > 0 ? (uint)options.LineBytesPerSecond : HelloMessage.LineUnbound,
        };
        Span<byte> payload = stackalloc byte[FrameLimits.PayloadBytesMax];
        outbox.SendUrgent(payload[..hello.Write(payload)]);
    }

    private uint HardSpeed => (uint)(device.Options.HardSpeedMillimetresPerSecond * device.Options.StepsPerMillimetre);

    private uint HardAcceleration => (uint)(device.Options.HardAccelerationMillimetresPerSecondSquared * device.Options.StepsPerMillimetre);

    private int HardForceCountsMax => (int)Math.Min(device.Physics.CountsMax, device.Options.ZeroCounts + HardForceSpan);

    private int HardForceCountsMin => (int)Math.Max(-device.Physics.CountsMax - 1.0, device.Options.ZeroCounts - HardForceSpan);

    private double HardForceSpan => device.Options.HardForceShare * device.Options.CellCapacityNewtons / device.Options.NewtonsPerCount;

    private void TakeCommand(MessageType type, ReadOnlySpan<byte> payload)
    {
        ushort command = payload.Length >= 3 ? BinaryPrimitives.ReadUInt16LittleEndian(payload[1..]) : (ushort)0;
        if (type == MessageType.Stop)
        {
            // Obeyed in any state, whatever else the frame says; one that is cut short stops at once.
            motion.Stop(!StopCommand.TryRead(payload, out StopCommand stop) || stop.AtOnce);
            AnswerStop(command);
            return;
        }

        if (command == 0 && !(type == MessageType.AskHello && payload.Length >= 3))
        {
            Send(new AnswerMessage(0, type, Knows(type) ? AnswerResult.BadValue : AnswerResult.UnknownType, 0));
            return;
        }

        CommandAge age = type == MessageType.AskHello ? CommandAge.New : _memory.Judge(command);
        switch (age)
        {
            case CommandAge.Repeated:
                Send(_memory.LastAnswer);
                break;
            case CommandAge.Superseded:
                Send(new AnswerMessage(command, type, AnswerResult.Superseded, 0));
                break;
            default:
                uint detail = 0;
                AnswerResult result = Do(type, payload, ref detail);
                var answer = new AnswerMessage(command, type, result, detail);
                _memory.Keep(answer);
                Send(answer);
                if (type == MessageType.AskHello) SayHello();
                break;
        }
    }

    private bool Knows(MessageType type) => (type == MessageType.Channel && channels.Count > 0)
        || type is MessageType.AskHello or MessageType.SetLimits or MessageType.Move
        or MessageType.Home or MessageType.Feed or MessageType.ClearFaults or MessageType.Stream;

    private void AnswerStop(ushort command)
    {
        var answer = new AnswerMessage(command, MessageType.Stop, AnswerResult.Done, 0);
        if (command != 0 && _memory.Judge(command) == CommandAge.New) _memory.Keep(answer);
        Send(answer);
    }

    private AnswerResult Do(MessageType type, ReadOnlySpan<byte> payload, ref uint detail) => type switch
    {
        MessageType.SetLimits or MessageType.Move when !device.Options.HasMotion => AnswerResult.NotCapable,
        MessageType.Home when !(device.Options.HasMotion && device.Options.HasHoming) => AnswerResult.NotCapable,
        MessageType.Feed when !(device.Options.HasMotion && device.Options.HasFeeder) => AnswerResult.NotCapable,
        // What restricts or moves takes no fields of a later version: one that is skipped could be the one that forbids.
        MessageType.SetLimits when payload.Length > SetLimitsCommand.Bytes => AnswerResult.BadValue,
        MessageType.Move when payload.Length > MoveCommand.Bytes => AnswerResult.BadValue,
        MessageType.Home when payload.Length > HomeCommand.Bytes => AnswerResult.BadValue,
        MessageType.Feed when payload.Length > FeedCommand.Bytes => AnswerResult.BadValue,
        MessageType.AskHello => AnswerResult.Done,
        MessageType.SetLimits => SetLimits(payload, ref detail),
        MessageType.Move => Move(payload),
        MessageType.Home => Home(payload),
        MessageType.Feed => Feed(payload),
        MessageType.ClearFaults => ClearFaults(payload),
        MessageType.Stream => Stream(payload, ref detail),
        MessageType.Channel when channels.Count > 0 => Channel(payload),
        _ => AnswerResult.UnknownType,
    };

    private AnswerResult SetLimits(ReadOnlySpan<byte> payload, ref uint detail)
    {
        if (!SetLimitsCommand.TryRead(payload, out SetLimitsCommand m) || m.LimitsId == 0
            || m.ForceCountsMin >= m.ForceCountsMax || m.TravelStepsMin >= m.TravelStepsMax
            || m.SpeedStepsPerSecondMax == 0 || m.AccelerationStepsPerSecondSquaredMax == 0 || m.MotionMillisecondsMax == 0)
            return AnswerResult.BadValue;
        if (motion.State != MotionState.Still) return AnswerResult.Busy;
        if (m.ForceCountsMin < HardForceCountsMin || m.ForceCountsMax > HardForceCountsMax
            || m.TravelStepsMin < device.HardTravelStepsMin || m.TravelStepsMax > device.HardTravelStepsMax
            || m.SpeedStepsPerSecondMax > HardSpeed || m.AccelerationStepsPerSecondSquaredMax > HardAcceleration)
            return AnswerResult.OutsideLimits;
        device.Limits = m;
        force.LimitsSet();
        detail = m.LimitsId | ((uint)Crc16.Compute(payload) << 16);
        return AnswerResult.Done;
    }

    private AnswerResult Move(ReadOnlySpan<byte> payload)
    {
        if (!MoveCommand.TryRead(payload, out MoveCommand m) || m.SpeedStepsPerSecond == 0
            || m.AccelerationStepsPerSecondSquared == 0 || m.Kind > MoveKind.Release)
            return AnswerResult.BadValue;
        bool releases = m.Kind == MoveKind.Release;
        AnswerResult may = MayMove(m.BootNumber, m.LimitsId, releases ? ToRelease : DeviceFaults.None);
        if (may != AnswerResult.Done) return may;
        if (motion.State is not (MotionState.Still or MotionState.Moving)) return AnswerResult.Busy;
        if (motion.State == MotionState.Moving && motion.IsReleasing != releases) return AnswerResult.Busy;
        if (m.Kind == MoveKind.Position && device.Options.HasHoming && !device.Homed) return AnswerResult.NotHomed;
        if (!IsInsideLimits(m)) return AnswerResult.OutsideLimits;
        motion.Move(m);
        return AnswerResult.Done;
    }

    private bool IsInsideLimits(MoveCommand m)
    {
        SetLimitsCommand limits = device.Limits!.Value;
        int direction = motion.DirectionOf(m);
        if (Math.Abs((long)m.SpeedStepsPerSecond) > limits.SpeedStepsPerSecondMax
            || m.AccelerationStepsPerSecondSquared > limits.AccelerationStepsPerSecondSquaredMax
            || !(m.Kind == MoveKind.Release ? ReleaseAllows(m, direction) : force.Allows(direction)))
            return false;
        if (m.Kind == MoveKind.Position && (m.TargetSteps < limits.TravelStepsMin || m.TargetSteps > limits.TravelStepsMax)) return false;
        bool atUpperEnd = device.UpperLimitReached || device.StepsNow >= limits.TravelStepsMax;
        bool atLowerEnd = device.LowerLimitReached || device.StepsNow <= limits.TravelStepsMin;
        return !(atUpperEnd && direction > 0) && !(atLowerEnd && direction < 0);
    }

    private AnswerResult Home(ReadOnlySpan<byte> payload)
    {
        if (!HomeCommand.TryRead(payload, out HomeCommand m) || m.SpeedStepsPerSecond == 0) return AnswerResult.BadValue;
        AnswerResult may = MayMove(m.BootNumber, m.LimitsId);
        if (may != AnswerResult.Done) return may;
        if (motion.State != MotionState.Still) return AnswerResult.Busy;
        if (force.Beyond != 0 || m.SpeedStepsPerSecond > device.Limits!.Value.SpeedStepsPerSecondMax) return AnswerResult.OutsideLimits;
        if (device.LowerLimitReached && device.UpperLimitReached) return AnswerResult.OutsideLimits;
        motion.Home(m.SpeedStepsPerSecond);
        return AnswerResult.Done;
    }

    private AnswerResult Feed(ReadOnlySpan<byte> payload)
    {
        if (!FeedCommand.TryRead(payload, out FeedCommand m)) return AnswerResult.BadValue;
        AnswerResult may = MayMove(m.BootNumber, m.LimitsId);
        if (may != AnswerResult.Done) return may;
        if (motion.State != MotionState.Still) return AnswerResult.Busy;
        if (force.Beyond != 0) return AnswerResult.OutsideLimits;
        motion.Feed();
        return AnswerResult.Done;
    }

    /// <summary>Only back where it came from, and slowly, however the force reads.</summary>
    private bool ReleaseAllows(MoveCommand m, int direction) => motion.LastDirection != 0 && direction == -motion.LastDirection
        && Math.Abs(m.SpeedStepsPerSecond) <= MotionControl.CreepMillimetresPerSecond * device.Options.StepsPerMillimetre;

    private AnswerResult MayMove(uint bootNumber, ushort limitsId, DeviceFaults besides = DeviceFaults.None)
    {
        if (bootNumber != device.BootNumber) return AnswerResult.WrongBoot;
        if (device.Limits is not { } limits || limits.LimitsId != limitsId) return AnswerResult.WrongLimits;
        if (!device.EmergencyStopReleased) return AnswerResult.EmergencyStopPressed;
        if ((device.Faults & ~besides) != DeviceFaults.None) return AnswerResult.Faulted;
        if (device.Options.HasGuard && !device.GuardClosed) return AnswerResult.GuardOpen;
        return device.KeepAliveCounts ? AnswerResult.Done : AnswerResult.NoKeepAlive;
    }

    private AnswerResult ClearFaults(ReadOnlySpan<byte> payload)
    {
        if (!ClearFaultsCommand.TryRead(payload, out ClearFaultsCommand m)) return AnswerResult.BadValue;
        if (m.BootNumber != device.BootNumber) return AnswerResult.WrongBoot;
        if (motion.State != MotionState.Still) return AnswerResult.Busy;
        device.Clear(m.Faults, sampler.IsSound);
        return AnswerResult.Done;
    }

    private AnswerResult Stream(ReadOnlySpan<byte> payload, ref uint detail)
    {
        if (!StreamCommand.TryRead(payload, out StreamCommand m)) return AnswerResult.BadValue;
        if (m.RateMillihertz != 0 && !device.Options.HasSelectableRate) return AnswerResult.NotCapable;
        if (m.RateMillihertz != 0) sampler.SetRate(m.RateMillihertz / 1000.0);
        channels.Flush(device.BootNumber);
        device.StreamOn = m.On;
        outbox.ForgetDrops();
        detail = sampler.RateMillihertz;
        return AnswerResult.Done;
    }

    private AnswerResult Channel(ReadOnlySpan<byte> payload)
    {
        if (!ChannelCommand.TryRead(payload, out ChannelCommand m) || m.Channel >= channels.Count) return AnswerResult.BadValue;
        channels.Take(m.Channel, m.On, device.BootNumber);
        return AnswerResult.Done;
    }

    private void Send(AnswerMessage answer)
    {
        Span<byte> payload = stackalloc byte[FrameLimits.PayloadBytesMax];
        outbox.SendUrgent(payload[..answer.Write(payload)]);
    }
}
