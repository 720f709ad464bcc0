using Microsoft.Extensions.Time.Testing;
using RigDaq.Core.Signal;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Links;
using RigDaq.Rig.Session;

namespace RigDaq.Rig.Tests.Session;

/// <summary>A session with a device that says exactly what a test has it say, on a clock that stands until it is moved.</summary>
internal sealed class ScriptedDevice : ISessionListener
{
    private readonly FrameDecoder _decoder = new();
    private readonly byte[] _payload = new byte[FrameLimits.PayloadBytesMax];

    public ScriptedDevice()
    {
        Session = new DeviceSession("test port", Written, Time, this);
        Session.Open();
    }

    public const uint Boot = 77;

    public FakeTimeProvider Time { get; } = new();

    public DeviceSession Session { get; }

    /// <summary>The payloads that the host has sent.</summary>
    public List<byte[]> Sent { get; } = [];

    public List<(BlockHead Head, RawSample[] Samples)> Blocks { get; } = [];

    public List<EventMessage> Events { get; } = [];

    public List<ChannelHead> Channels { get; } = [];

    public List<(ChannelHead Head, ChannelSample[] Values)> Values { get; } = [];

    public void ChannelDescribed(ChannelHead head) => Channels.Add(head);

    public void ChannelArrived(ChannelHead head, ReadOnlySpan<ChannelSample> values) => Values.Add((head, values.ToArray()));

    public void Describe(Func<ChannelDescriptionMessage, ChannelDescriptionMessage>? change = null)
    {
        var described = new ChannelDescriptionMessage
        {
            BootNumber = Boot,
            Channel = 1,
            Kind = ChannelKind.Extension,
            Divider = 2,
            Zero = 100,
            Numerator = 1,
            Denominator = 10_000,
            RawMin = -1000,
            RawMax = 1000,
            Resolution = 1,
            Unit = "m",
            Name = "Knives",
        };
        Say((change?.Invoke(described) ?? described).Write(_payload));
    }

    public void SayValues(uint firstNumber, int[] values, uint boot = Boot, byte channel = 1) =>
        Say(new ChannelSamplesMessage(boot, channel, firstNumber, (byte)values.Length).Write(_payload, values));

    public LinkEnd? Failure { get; private set; }

    public int Known { get; private set; }

    public int Restarts { get; private set; }

    public static HelloMessage Hello(uint boot = Boot) => new()
    {
        VersionMajor = HelloMessage.MajorVersion,
        BootNumber = boot,
        DeviceId = 1,
        Capabilities = Capabilities.Motion | Capabilities.Position,
        StepsPerMetre = 400_000,
        Name = "Scripted",
    };

    public void SayHello(uint boot = Boot) => Say(Hello(boot).Write(_payload));

    public void SayVersion(byte major)
    {
        Say((Hello() with { VersionMajor = major, VersionMinor = 3 }).Write(_payload));
    }

    public void Answer(ushort command, MessageType type, AnswerResult result = AnswerResult.Done, uint detail = 0) =>
        Say(new AnswerMessage(command, type, result, detail).Write(_payload));

    public void SayEvent(ushort number, DeviceEventCode code) => Say(new EventMessage(number, code, 0, 0).Write(_payload));

    public void SayBlock(uint firstNumber, uint firstStamp, int[] counts, uint boot = Boot, ushort limitsId = 0, ushort lastCommand = 0)
    {
        var state = new DeviceState(boot, InputStates.ConverterAlive, MotionState.Still, StateBits.None, DeviceFaults.None, limitsId,
            lastCommand, 0);
        Say(new SamplesMessage(state, firstNumber, firstStamp, 1_000_000, 0, (byte)counts.Length)
            .Write(_payload, counts, new int[counts.Length]));
    }

    public void Wait(int milliseconds, long bytes = 0, long frames = 0)
    {
        Time.Advance(TimeSpan.FromMilliseconds(milliseconds));
        Session.Tick(bytes, frames);
    }

    /// <summary>The number that the last command of a type was sent with.</summary>
    public ushort LastNumber(MessageType type)
    {
        byte[] payload = Sent.Last(p => p[0] == (byte)type);
        return (ushort)(payload[1] | (payload[2] << 8));
    }

    public int CountSent(MessageType type) => Sent.Count(p => p[0] == (byte)type);

    public void DeviceKnown(HelloMessage hello) => Known++;

    public void DeviceRestarted() => Restarts++;

    public void BlockArrived(in BlockHead head, ReadOnlySpan<RawSample> samples) => Blocks.Add((head, samples.ToArray()));

    public void EventArrived(EventMessage message) => Events.Add(message);

    public int Missed { get; private set; }

    public void EventsMissed(int count) => Missed += count;

    public void SessionFailed(LinkEnd end) => Failure = end;

    private void Say(int length) => Session.Handle(_payload.AsSpan(0, length), Time.GetTimestamp());

    private void Written(ReadOnlyMemory<byte> bytes)
    {
        ReadOnlySpan<byte> rest = bytes.Span;
        while (_decoder.TryRead(ref rest, out ReadOnlySpan<byte> payload)) Sent.Add(payload.ToArray());
    }
}
