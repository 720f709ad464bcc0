using System.Buffers;
using System.IO.Pipelines;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Virtual.Machine;

namespace RigDaq.Virtual.Tests;

/// <summary>A host of a few lines that drives a stepped rig: no clock, no thread, no waiting.</summary>
internal sealed class SteppedHost
{
    private delegate int Writing(Span<byte> payload);

    private static readonly TimeSpan Portion = TimeSpan.FromMilliseconds(20);
    private static readonly TimeSpan KeepAliveEvery = TimeSpan.FromMilliseconds(100);
    private readonly FrameDecoder _decoder = new();
    private readonly int[] _counts = new int[SamplesMessage.CountMax];
    private readonly int[] _steps = new int[SamplesMessage.CountMax];
    private readonly int[] _values = new int[ChannelSamplesMessage.CountMax];
    private IDuplexPipe _pipe;
    private ushort _command;
    private ushort _life;
    private TimeSpan _sinceLife = KeepAliveEvery;

    public SteppedHost(VirtualRigOptions? options = null)
    {
        Options = (options ?? new VirtualRigOptions()) with { Stepped = true };
        Rig = new VirtualRig(Options, TimeProvider.System);
        _pipe = Rig.ConnectInProcess();
    }

    public VirtualRigOptions Options { get; }

    public VirtualRig Rig { get; }

    public bool SendsKeepAlive { get; set; } = true;

    public bool Acknowledges { get; set; } = true;

    /// <summary>Whether a command without an answer is an everyday thing: a bad line.</summary>
    public bool LosesAnswers { get; init; }

    /// <summary>The limits that the device said it took.</summary>
    public SetLimitsCommand? LimitsTaken { get; private set; }

    public List<HelloMessage> Hellos { get; } = [];

    public List<AnswerMessage> Answers { get; } = [];

    public List<EventMessage> Events { get; } = [];

    public List<SamplesMessage> Blocks { get; } = [];

    public List<ChannelDescriptionMessage> Descriptions { get; } = [];

    public List<(byte Channel, uint Number, int Raw)> Values { get; } = [];

    public List<(uint Number, uint Stamp, int Counts, int Steps)> Samples { get; } = [];

    public HelloMessage Hello => Hellos[^1];

    public DeviceState State => Blocks[^1].State;

    public long FramesBad => _decoder.FramesBad;

    public bool LineEnded { get; private set; }

    public double NewtonsOf(double counts) => (counts - Options.ZeroCounts) * Options.NewtonsPerCount;

    public void Connect()
    {
        _pipe = Rig.ConnectInProcess();
        LineEnded = false;
    }

    public void Disconnect() => _pipe.Output.Complete();

    /// <summary>Lets wall time pass, with keep-alives.</summary>
    public void Run(double wallSeconds)
    {
        var left = TimeSpan.FromSeconds(wallSeconds);
        while (left > TimeSpan.Zero)
        {
            TimeSpan now = left < Portion ? left : Portion;
            if (SendsKeepAlive && _sinceLife >= KeepAliveEvery && Hellos.Count > 0) KeepAlive(++_life);
            Rig.Advance(now * Options.TimeScale);
            _sinceLife += now;
            left -= now;
            Drain();
        }
    }

    /// <summary>Lets time pass until something holds, at most so long.</summary>
    public bool RunUntil(Func<bool> holds, double wallSecondsMax)
    {
        for (double passed = 0; passed < wallSecondsMax && !holds(); passed += Portion.TotalSeconds) Run(Portion.TotalSeconds);
        return holds();
    }

    public void KeepAlive(ushort counter)
    {
        _sinceLife = TimeSpan.Zero;
        SendRaw(new KeepAliveMessage(Hello.BootNumber, counter).Write);
    }

    /// <summary>Says hello, sets wide limits, switches the stream on.</summary>
    public SteppedHost Prepare()
    {
        AskHello();
        Assert.Equal(AnswerResult.Done, SetLimits().Result);
        Assert.Equal(AnswerResult.Done, Stream(true).Result);
        Run(0.2);
        return this;
    }

    /// <summary>Asks for a hello until one has come.</summary>
    public void Greet()
    {
        for (int i = 0; i < 10 && Hellos.Count == 0; i++) AskHello();
    }

    public AnswerMessage AskHello() => Ask(n => new AskHelloCommand(n).Write);

    public AnswerMessage Stream(bool on, uint rateMillihertz = 0) => Ask(n => new StreamCommand(n, on, rateMillihertz).Write);

    public AnswerMessage Channel(byte channel, bool on) => Ask(n => new ChannelCommand(n, channel, on).Write);

    public AnswerMessage SetLimits(Func<SetLimitsCommand, SetLimitsCommand>? change = null)
    {
        AnswerMessage answer = AskLimits(change);
        // Without an answer nobody knows which limits the device holds.
        if (answer.Type != MessageType.SetLimits) LimitsTaken = null;
        else if (answer.Result == AnswerResult.Done) LimitsTaken = LimitsSent;
        return answer;
    }

    private AnswerMessage AskLimits(Func<SetLimitsCommand, SetLimitsCommand>? change) => Ask(n =>
    {
        var wide = new SetLimitsCommand(
            n,
            (ushort)(n + 100),
            Hello.HardForceCountsMin,
            Hello.HardForceCountsMax,
            Hello.HardTravelStepsMin,
            Hello.HardTravelStepsMax,
            Hello.HardSpeedStepsPerSecondMax,
            Hello.HardAccelerationStepsPerSecondSquaredMax,
            60_000);
        LimitsSent = change?.Invoke(wide) ?? wide;
        return LimitsSent.Write;
    });

    public SetLimitsCommand LimitsSent { get; private set; }

    public AnswerMessage Move(double millimetresPerSecond, double? targetMillimetres = null, Func<MoveCommand,
        MoveCommand>? change = null) =>
        Ask(n =>
        {
            double steps = Options.StepsPerMillimetre;
            var move = new MoveCommand(
                n,
                Hello.BootNumber,
                LimitsSent.LimitsId,
                targetMillimetres is null ? MoveKind.Speed : MoveKind.Position,
                (int)(millimetresPerSecond * steps),
                (uint)(20 * steps),
                (int)((targetMillimetres ?? 0) * steps));
            return (change?.Invoke(move) ?? move).Write;
        });

    public AnswerMessage Stop(bool atOnce = false) => Ask(n => new StopCommand(n, atOnce).Write);

    public AnswerMessage Home(double millimetresPerSecond = 10) => Ask(n =>
        new HomeCommand(n, Hello.BootNumber, LimitsSent.LimitsId, (uint)(millimetresPerSecond * Options.StepsPerMillimetre)).Write);

    public AnswerMessage Feed() => Ask(n => new FeedCommand(n, Hello.BootNumber, LimitsSent.LimitsId).Write);

    public AnswerMessage Clear(DeviceFaults faults) => Ask(n => new ClearFaultsCommand(n, Hello.BootNumber, faults).Write);

    /// <summary>Sends payload bytes as a frame and lets 20 ms pass.</summary>
    public void SendPayload(ReadOnlySpan<byte> payload)
    {
        Span<byte> frame = stackalloc byte[FrameLimits.WireBytesMax];
        SendBytes(frame[..FrameEncoder.Encode(payload, frame)]);
    }

    public void SendBytes(ReadOnlySpan<byte> bytes)
    {
        _pipe.Output.Write(bytes);
        // The pipe takes it at once: far less than its threshold is ever under way here.
        Assert.True(_pipe.Output.FlushAsync().AsTask().IsCompleted);
    }

    /// <summary>The payload of a numbered command that was built by hand.</summary>
    public AnswerMessage? AskPayload(ReadOnlySpan<byte> payload)
    {
        int before = Answers.Count;
        SendPayload(payload);
        Run(Portion.TotalSeconds);
        return Answers.Count > before ? Answers[^1] : null;
    }

    private AnswerMessage Ask(Func<ushort, Writing> command)
    {
        int before = Answers.Count;
        SendRaw(command(++_command));
        bool answered = RunUntil(() => Answers.Count > before, LosesAnswers ? 0.1 : 1);
        Assert.True(answered || LosesAnswers, "No answer came.");
        return answered ? Answers[^1] : default;
    }

    private void SendRaw(Writing write)
    {
        Span<byte> payload = stackalloc byte[FrameLimits.PayloadBytesMax];
        SendPayload(payload[..write(payload)]);
    }

    private void Drain()
    {
        while (!LineEnded && _pipe.Input.TryRead(out ReadResult result))
        {
            foreach (ReadOnlyMemory<byte> part in result.Buffer) Take(part.Span);
            _pipe.Input.AdvanceTo(result.Buffer.End);
            if (result.IsCompleted) LineEnded = true;
        }
    }

    private void Take(ReadOnlySpan<byte> bytes)
    {
        while (_decoder.TryRead(ref bytes, out ReadOnlySpan<byte> payload))
        {
            if (HelloMessage.TryRead(payload, out HelloMessage hello)) Hellos.Add(hello);
            else if (AnswerMessage.TryRead(payload, out AnswerMessage answer)) Answers.Add(answer);
            else if (EventMessage.TryRead(payload, out EventMessage happened)) TakeEvent(happened);
            else if (SamplesMessage.TryRead(payload, out SamplesMessage block, _counts, _steps)) TakeBlock(block);
            else if (ChannelDescriptionMessage.TryRead(payload, out ChannelDescriptionMessage described)) Descriptions.Add(described);
            else if (ChannelSamplesMessage.TryRead(payload, out ChannelSamplesMessage values, _values)) TakeValues(values);
            // One in 65,536 frames that lost a byte passes its checksum all the same.
            else if (!LosesAnswers) Assert.Fail($"A payload of type {payload[0]} could not be read.");
        }
    }

    private void TakeEvent(EventMessage happened)
    {
        Events.Add(happened);
        if (Acknowledges && Hellos.Count > 0) SendRaw(new AcknowledgeEventMessage(Hello.BootNumber, happened.Number).Write);
    }

    private void TakeValues(ChannelSamplesMessage values)
    {
        uint divider = Descriptions.Last(d => d.Channel == values.Channel).Divider;
        for (int i = 0; i < values.Count; i++) Values.Add((values.Channel, values.FirstNumber + ((uint)i * divider), _values[i]));
    }

    private void TakeBlock(SamplesMessage block)
    {
        Blocks.Add(block);
        for (int i = 0; i < block.Count; i++)
        {
            uint stamp = block.FirstStampMicroseconds + (uint)(i * (long)block.PeriodNanoseconds / 1000);
            Samples.Add((block.FirstNumber + (uint)i, stamp, _counts[i], _steps[i]));
        }
    }
}
