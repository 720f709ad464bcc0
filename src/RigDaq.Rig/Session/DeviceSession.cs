using RigDaq.Core.Signal;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Links;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Session;

/// <summary>The conversation with one device over one open link: the greeting, numbered commands, limits and their confirmation, events. It
/// decides nothing about motion.</summary>
/// <remarks>Used by one thread; it neither waits nor reads a clock but through the time provider.</remarks>
internal sealed class DeviceSession : IDeviceSession
{
    /// <summary>How long a device may take to say hello. Some boards restart when the port is opened and take two seconds.</summary>
    public static readonly TimeSpan GreetingMax = TimeSpan.FromSeconds(5);

    /// <summary>How often a hello is asked for while none comes.</summary>
    public static readonly TimeSpan GreetingRepeat = TimeSpan.FromMilliseconds(500);

    /// <summary>So many bytes without a single frame are another baud rate, or another device.</summary>
    public const int StrangeBytesMin = 64;

    /// <summary>How often a channel is asked for whose description did not come with its answer.</summary>
    public const int DescriptionsMax = 3;

    private readonly string _linkName;
    private readonly Action<ReadOnlyMemory<byte>> _write;
    private readonly TimeProvider _time;
    private readonly ISessionListener _listener;
    private readonly CommandQueue _commands;
    private UnwrappedSamples _unwrapped;
    private long _greetingSince;
    private long _askedAt;
    private uint _lastBoot;
    private ushort _lastEvent;
    private ushort _keepAliveCounter;
    private ushort _lastLimitsId;
    private ushort _confirmedId;
    private ushort _limitsCommand;
    private bool _failed;

    public DeviceSession(string linkName, Action<ReadOnlyMemory<byte>> write, TimeProvider time, ISessionListener listener)
    {
        _linkName = linkName;
        _write = write;
        _time = time;
        _listener = listener;
        _commands = new CommandQueue(write, time);
        _unwrapped = new UnwrappedSamples(time);
    }

    public HelloMessage? Hello { get; private set; }

    public DeviceState State { get; private set; }

    public bool StateKnown { get; private set; }

    public long SamplesReceived => _unwrapped.Received;

    public long SamplesLost => _unwrapped.Lost;

    public long EventsLost { get; private set; }

    public DeviceLimits? LimitsInForce { get; private set; }

    public SampleTimes Times => _unwrapped.Times;

    public bool MayBeSilent => false;

    public LinkNews News => LinkNews.None;

    public void Open()
    {
        _greetingSince = _time.GetTimestamp();
        Ask();
    }

    public void Handle(ReadOnlySpan<byte> payload, long arrivedAt)
    {
        switch ((MessageType)payload[0])
        {
            case MessageType.Hello:
                TakeHello(payload);
                break;
            case MessageType.Samples:
                TakeBlock(payload, arrivedAt);
                break;
            case MessageType.Event when EventMessage.TryRead(payload, out EventMessage message):
                TakeEvent(message);
                break;
            case MessageType.Answer when AnswerMessage.TryRead(payload, out AnswerMessage answer):
                _commands.Answered(answer);
                break;
            case MessageType.ChannelDescription when ChannelDescriptionMessage.TryRead(payload, out ChannelDescriptionMessage described):
                TakeDescription(described);
                break;
            case MessageType.ChannelSamples:
                TakeValues(payload);
                break;
            default:
                // A newer device may say more than is known here: skipped, as the wire demands.
                break;
        }
    }

    public void Tick(long bytesReceived, long framesGood)
    {
        if (_failed) return;
        if (Hello is null)
        {
            if (_time.GetElapsedTime(_greetingSince) > GreetingMax) Fail(NoGreeting(bytesReceived, framesGood));
            else if (_time.GetElapsedTime(_askedAt) > GreetingRepeat) Ask();
        }
        else if (!_commands.Tick())
        {
            Fail(RigText.DoesNotAnswer(_linkName));
        }
    }

    public void KeepAlive()
    {
        if (Hello is not { } hello) return;
        Span<byte> payload = stackalloc byte[FrameLimits.PayloadBytesMax];
        int length = new KeepAliveMessage(hello.BootNumber, ++_keepAliveCounter).Write(payload);
        // A fresh buffer: a write of the one before may still be under way on the line.
        var frame = new byte[FrameLimits.WireBytesMax];
        _write(frame.AsMemory(0, FrameEncoder.Encode(payload[..length], frame)));
    }

    public void Stop(bool atOnce, Action<CommandOutcome> done) => _commands.Stop(atOnce, done);

    public void SetLimits(DeviceLimits limits, Action<Sentence?> done)
    {
        if (++_lastLimitsId == 0) _lastLimitsId = 1;
        ushort id = _lastLimitsId;
        ushort checksum = 0;
        LimitsInForce = null;
        _confirmedId = 0;
        _commands.Send(
            (number, payload) =>
            {
                int length = new SetLimitsCommand(number, id, limits.ForceCountsMin, limits.ForceCountsMax, limits.TravelStepsMin,
                    limits.TravelStepsMax, limits.SpeedStepsPerSecondMax, limits.AccelerationStepsPerSecondSquaredMax,
                    limits.MotionMillisecondsMax).Write(payload);
                checksum = Crc16.Compute(payload[..length]);
                _limitsCommand = number;
                return length;
            },
            outcome =>
            {
                if (!outcome.Done)
                {
                    done(RigText.LimitsNotTaken(outcome.Words));
                }
                else if (outcome.Detail != ((uint)checksum << 16 | id))
                {
                    done(RigText.OtherLimitsConfirmed);
                }
                else
                {
                    _confirmedId = id;
                    LimitsInForce = limits;
                    done(null);
                }
            });
    }

    public void Move(MoveKind kind, int speedStepsPerSecond, uint accelerationStepsPerSecondSquared, int targetSteps,
        Action<CommandOutcome> done) =>
        _commands.Send(
            (number, payload) => new MoveCommand(number, Boot, _confirmedId, kind, speedStepsPerSecond, accelerationStepsPerSecondSquared,
                targetSteps).Write(payload),
            done);

    public void Home(uint speedStepsPerSecond, Action<CommandOutcome> done) =>
        _commands.Send((number, payload) => new HomeCommand(number, Boot, _confirmedId, speedStepsPerSecond).Write(payload), done);

    public void Feed(Action<CommandOutcome> done) =>
        _commands.Send((number, payload) => new FeedCommand(number, Boot, _confirmedId).Write(payload), done);

    public void ClearFaults(DeviceFaults faults, Action<CommandOutcome> done) =>
        _commands.Send((number, payload) => new ClearFaultsCommand(number, Boot, faults).Write(payload), done);

    public void Stream(bool on, uint rateMillihertz, Action<CommandOutcome> done) =>
        _commands.Send((number, payload) => new StreamCommand(number, on, rateMillihertz).Write(payload), done);

    public void Channel(int channel, bool on, Action<ChannelHead?> done) => AskChannel(channel, on, DescriptionsMax, done);

    private void AskChannel(int channel, bool on, int tries, Action<ChannelHead?> done)
    {
        _unwrapped.Forget(channel);
        _commands.Send(
            (number, payload) => new ChannelCommand(number, (byte)channel, on).Write(payload),
            outcome =>
            {
                // Overtaken by a stop, or with its session at its end: not asked again.
                if (!outcome.Answered) return;
                if (_unwrapped.Channel(channel) is { } head) done(outcome.Done ? head : null);
                else if (outcome.Done && tries > 1) AskChannel(channel, on, tries - 1, done);
                else done(null);
            });
    }

    public void End(Sentence words)
    {
        _failed = true;
        StateKnown = false;
        LimitsInForce = null;
        _commands.Drop(words);
    }

    private uint Boot => Hello?.BootNumber ?? 0;

    private void Ask()
    {
        _askedAt = _time.GetTimestamp();
        _commands.Ask((number, payload) => new AskHelloCommand(number).Write(payload), RigText.OvertakenByGreeting);
    }

    private Sentence NoGreeting(long bytesReceived, long framesGood)
    {
        if (framesGood > 0) return RigText.DoesNotSayWhatItIs(_linkName);
        return bytesReceived >= StrangeBytesMin ? RigText.NoFrames(_linkName) : RigText.NothingArrives(_linkName);
    }

    private void TakeHello(ReadOnlySpan<byte> payload)
    {
        if (_failed || !HelloMessage.TryReadVersion(payload, out byte major, out byte minor)) return;
        if (major != HelloMessage.MajorVersion)
        {
            Fail(RigText.OtherVersion(_linkName, major, minor, HelloMessage.MajorVersion, isNewer: major > HelloMessage.MajorVersion));
            return;
        }

        if (!HelloMessage.TryRead(payload, out HelloMessage hello) || hello.BootNumber == 0) return;
        if (Hello is { } known && known.BootNumber == hello.BootNumber) return;
        bool restarted = _lastBoot != 0 && _lastBoot != hello.BootNumber;
        if (Hello is not null) Forget();
        Hello = hello;
        _lastBoot = hello.BootNumber;
        if (restarted) _listener.DeviceRestarted();
        _listener.DeviceKnown(hello);
    }

    private void TakeBlock(ReadOnlySpan<byte> payload, long arrivedAt)
    {
        if (Hello is not { } hello || !_unwrapped.TryRead(payload, out SamplesMessage message)) return;
        if (message.State.BootNumber != hello.BootNumber)
        {
            // It restarted and its hello was lost: ask for another.
            Forget();
            _greetingSince = _time.GetTimestamp();
            _listener.DeviceRestarted();
            Ask();
            return;
        }

        State = message.State;
        StateKnown = true;
        // A block that was closed before the limits were taken says nothing against them.
        bool sinceLimits = unchecked((short)(State.LastCommand - _limitsCommand)) >= 0;
        if (sinceLimits && State.LimitsId != _confirmedId) LimitsInForce = null;
        ReadOnlySpan<RawSample> samples = _unwrapped.Take(message, arrivedAt, out BlockHead head);
        _listener.BlockArrived(head, samples);
    }

    private void TakeDescription(ChannelDescriptionMessage described)
    {
        if (Hello is not { } hello || described.BootNumber != hello.BootNumber || !described.IsUsable) return;
        _listener.ChannelDescribed(_unwrapped.Describe(described));
    }

    private void TakeValues(ReadOnlySpan<byte> payload)
    {
        if (Hello is { } hello
            && _unwrapped.TryTakeValues(payload, hello.BootNumber, out ChannelHead? head, out ReadOnlySpan<ChannelSample> values))
            _listener.ChannelArrived(head, values);
    }

    private void TakeEvent(EventMessage message)
    {
        if (Hello is null) return;
        Span<byte> payload = stackalloc byte[FrameLimits.PayloadBytesMax];
        int length = new AcknowledgeEventMessage(Boot, message.Number).Write(payload);
        var frame = new byte[FrameLimits.WireBytesMax];
        _write(frame.AsMemory(0, FrameEncoder.Encode(payload[..length], frame)));
        int further = _lastEvent == 0 ? 1 : EventsFrom(_lastEvent, message.Number);
        if (further <= 0) return;
        _lastEvent = message.Number;
        if (further > 1)
        {
            EventsLost += further - 1;
            _listener.EventsMissed(further - 1);
        }

        _listener.EventArrived(message);
    }

    /// <summary>How many events a number lies after another; 0 is no number (PROTOCOL.md, 12).</summary>
    private static int EventsFrom(ushort last, ushort next)
    {
        int further = unchecked((short)(next - last));
        return further > 0 && next < last ? further - 1 : further;
    }

    private void Forget()
    {
        Hello = null;
        StateKnown = false;
        LimitsInForce = null;
        _confirmedId = 0;
        // Another start counts from elsewhere.
        _unwrapped = new UnwrappedSamples(_time);
        _lastEvent = 0;
        EventsLost = 0;
        _commands.Drop(RigText.LostByRestart);
    }

    private void Fail(Sentence message)
    {
        if (_failed) return;
        _failed = true;
        _listener.SessionFailed(new LinkEnd(LinkEndKind.NotUnderstood, message));
    }
}
