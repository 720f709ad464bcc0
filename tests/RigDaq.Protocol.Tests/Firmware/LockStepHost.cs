using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;

namespace RigDaq.Protocol.Tests.Firmware;

/// <summary>A host of a few lines that leads a simulated board in lock step: keep-alives, numbered commands, what came back.</summary>
internal sealed class LockStepHost(ILockStepBoard board)
{
    public const ushort LimitsId = 7;
    private const int KeepAliveMilliseconds = 100;
    private readonly FrameDecoder _decoder = new();
    private readonly List<byte> _toDevice = [];
    private readonly int[] _counts = new int[SamplesMessage.CountMax];
    private readonly int[] _steps = new int[SamplesMessage.CountMax];
    private readonly int[] _values = new int[ChannelSamplesMessage.CountMax];
    private AnswerMessage? _answer;
    private ushort _command;
    private ushort _counter;
    private ushort _lastEvent;
    private int _untilKeepAlive;

    public HelloMessage Hello { get; private set; }

    public DeviceState State { get; private set; }

    public List<EventMessage> Events { get; } = [];

    public List<(uint Number, uint Stamp, int Counts, int Steps)> Samples { get; } = [];

    public List<ChannelDescriptionMessage> Descriptions { get; } = [];

    public List<(uint Number, int Raw)> Values { get; } = [];

    public List<byte> Received { get; } = [];

    public long FramesBad => _decoder.FramesBad;

    public bool KeepsAlive { get; set; } = true;

    public AnswerMessage LastAnswer => _answer!.Value;

    /// <summary>Lets time go on.</summary>
    public async Task Run(int milliseconds)
    {
        while (milliseconds > 0)
        {
            if (_untilKeepAlive <= 0)
            {
                _untilKeepAlive = KeepAliveMilliseconds;
                if (KeepsAlive && Hello.BootNumber != 0) Send(new KeepAliveMessage(Hello.BootNumber, ++_counter).Write);
            }

            int step = Math.Min(Math.Min(milliseconds, _untilKeepAlive), 20);
            byte[] toDevice = [.. _toDevice];
            _toDevice.Clear();
            Take(await board.Exchange(step, toDevice));
            milliseconds -= step;
            _untilKeepAlive -= step;
        }
    }

    /// <summary>Until the motion has ended, at most so long.</summary>
    public async Task RunUntilStill(int millisecondsMax)
    {
        await Run(40);
        for (int waited = 0; State.Motion != MotionState.Still; waited += 20)
        {
            Assert.True(waited < millisecondsMax, $"still {State.Motion} after {waited} ms");
            await Run(20);
        }
    }

    /// <summary>Greets the device, sets limits, starts the stream.</summary>
    public async Task Begin(int forceCountsMax = 4_000_000)
    {
        await Run(1200);
        Assert.NotEqual(0u, Hello.BootNumber);
        Assert.Equal(AnswerResult.Done, await Limits(forceCountsMax));
        Assert.Equal(AnswerResult.Done, await Stream(on: true));
    }

    public Task<AnswerResult> AskHello() => Command(n => new AskHelloCommand(n).Write);

    public Task<AnswerResult> Stream(bool on) => Command(n => new StreamCommand(n, on, 0).Write);

    public Task<AnswerResult> Channel(byte channel, bool on) => Command(n => new ChannelCommand(n, channel, on).Write);

    public Task<AnswerResult> Limits(int forceCountsMax) =>
        Command(n => new SetLimitsCommand(n, LimitsId, -100_000, forceCountsMax, -200, 40_000, 4000, 20_000, 30_000).Write);

    public Task<AnswerResult> Home() => Command(n => new HomeCommand(n, Hello.BootNumber, LimitsId, 2000).Write);

    public Task<AnswerResult> Move(int speed) =>
        Command(n => new MoveCommand(n, Hello.BootNumber, LimitsId, MoveKind.Speed, speed, 20_000, 0).Write);

    public Task<AnswerResult> MoveTo(int target) =>
        Command(n => new MoveCommand(n, Hello.BootNumber, LimitsId, MoveKind.Position, 4000, 20_000, target).Write);

    public Task<AnswerResult> Release(int speed) =>
        Command(n => new MoveCommand(n, Hello.BootNumber, LimitsId, MoveKind.Release, speed, 20_000, 0).Write);

    public Task<AnswerResult> Stop(bool atOnce) => Command(n => new StopCommand(n, atOnce).Write);

    public Task<AnswerResult> ClearFaults() => Command(n => new ClearFaultsCommand(n, Hello.BootNumber, (DeviceFaults)0xFFFF).Write);

    /// <summary>Puts bytes on the line as they are.</summary>
    public void SendRaw(byte[] bytes) => _toDevice.AddRange(bytes);

    private async Task<AnswerResult> Command(Func<ushort, Vectors.WireCatalogue.Writer> make)
    {
        _answer = null;
        Send(make(++_command));
        for (int waited = 0; _answer?.Command != _command; waited += 5)
        {
            Assert.True(waited < 300, $"no answer to command {_command}");
            await Run(5);
        }

        return LastAnswer.Result;
    }

    private void Send(Vectors.WireCatalogue.Writer write)
    {
        Span<byte> payload = stackalloc byte[FrameLimits.PayloadBytesMax];
        Span<byte> wire = stackalloc byte[FrameLimits.WireBytesMax];
        int length = write(payload);
        _toDevice.AddRange(wire[..FrameEncoder.Encode(payload[..length], wire)]);
    }

    private void Take(byte[] bytes)
    {
        Received.AddRange(bytes);
        ReadOnlySpan<byte> rest = bytes;
        while (_decoder.TryRead(ref rest, out ReadOnlySpan<byte> payload))
        {
            if (HelloMessage.TryRead(payload, out HelloMessage hello)) Hello = hello;
            else if (AnswerMessage.TryRead(payload, out AnswerMessage answer)) _answer = answer;
            else if (EventMessage.TryRead(payload, out EventMessage happened)) TakeEvent(happened);
            else if (ChannelDescriptionMessage.TryRead(payload, out ChannelDescriptionMessage described)) Descriptions.Add(described);
            else if (ChannelSamplesMessage.TryRead(payload, out ChannelSamplesMessage values, _values))
            {
                for (int i = 0; i < values.Count; i++) Values.Add((values.FirstNumber + ((uint)i * Descriptions[^1].Divider), _values[i]));
            }
            else if (SamplesMessage.TryRead(payload, out SamplesMessage head, _counts, _steps)) TakeBlock(head);
        }
    }

    private void TakeEvent(EventMessage happened)
    {
        if (happened.Code == DeviceEventCode.Started) _lastEvent = 0;
        if (happened.Number != _lastEvent) Events.Add(happened);
        _lastEvent = happened.Number;
        Send(new AcknowledgeEventMessage(Hello.BootNumber, happened.Number).Write);
    }

    private void TakeBlock(SamplesMessage head)
    {
        State = head.State;
        for (int i = 0; i < head.Count; i++)
        {
            uint stamp = head.FirstStampMicroseconds + (uint)((long)i * head.PeriodNanoseconds / 1000);
            Samples.Add((head.FirstNumber + (uint)i, stamp, _counts[i], _steps[i]));
        }
    }
}
