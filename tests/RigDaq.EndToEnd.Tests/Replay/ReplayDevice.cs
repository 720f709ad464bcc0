using System.Buffers;
using System.IO.Pipelines;
using RigDaq.Core.Signal;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Links;

namespace RigDaq.EndToEnd.Tests.Replay;

/// <summary>
/// A device on the wire that converts what was recorded. It takes commands as PROTOCOL.md says, a specimen is in its grips after one
/// feed, and the first motion after that plays the recording at the recorded numbers and stamps, whatever wall time does.
/// </summary>
internal sealed class ReplayDevice : IAsyncDisposable
{
    public const ulong Id = 0x5250_4C59_0000_0001;

    private const uint Boot = 4_711;

    /// <summary>How much faster than wall time the device's clock goes.</summary>
    private const double TimeScale = 12;

    /// <summary>How many rounds a feed or a motion that no recording shows is said to last, so that the host sees it begin.</summary>
    private const int ShortMotionRounds = 3;

    private static readonly TimeSpan Round = TimeSpan.FromMilliseconds(8);

    private readonly RecordedRun _run;
    private readonly ReplaySignal _signal;
    private readonly FrameDecoder _decoder = new();
    private readonly byte[] _payload = new byte[FrameLimits.PayloadBytesMax];
    private readonly byte[] _frame = new byte[FrameLimits.WireBytesMax];
    private readonly Pipe _toHost = new();
    private readonly Pipe _toDevice = new();
    private readonly CancellationTokenSource _end = new();
    private readonly uint _periodNanoseconds;
    private RawSample? _kept;
    private Task _running = Task.CompletedTask;
    private byte[] _lastAnswer = [];
    private bool _streams;
    private bool _loaded;
    private bool _stopAsked;
    private MotionState _motion;
    private int _roundsLeft;
    private int _target;
    private ushort _limitsId;
    private ushort _lastCommand;

    public ReplayDevice(RecordedRun run)
    {
        _run = run;
        _signal = new ReplaySignal(run);
        _periodNanoseconds = (uint)Math.Round(run.Head.IntervalSeconds * 1e9);
        Link = new PipeRigLinkOpener("replay device", Connect);
    }

    /// <summary>The host's way to it; it can be opened once.</summary>
    public IRigLinkOpener Link { get; }

    public async ValueTask DisposeAsync()
    {
        await _end.CancelAsync();
        await _running;
        _end.Dispose();
    }

    private HostEnd Connect()
    {
        if (!_running.IsCompleted || _end.IsCancellationRequested) throw new IOException("a replay has one line.");
        _running = Task.Run(RunAsync);
        return new HostEnd(_toHost.Reader, _toDevice.Writer);
    }

    private async Task RunAsync()
    {
        // Wall time on purpose: the host's keep-alive and its watch over a silent line run in it. The measurement runs on stamps.
        using var timer = new PeriodicTimer(Round);
        long began = TimeProvider.System.GetTimestamp();
        double startMicroseconds = _signal.NowMicroseconds;
        SayHello();
        while (!_end.IsCancellationRequested && !(await _toHost.Writer.FlushAsync()).IsCompleted)
        {
            await timer.WaitForNextTickAsync();
            Hear();
            SendSamples(startMicroseconds + (TimeProvider.System.GetElapsedTime(began).TotalMicroseconds * TimeScale));
        }

        await _toHost.Writer.CompleteAsync();
        await _toDevice.Reader.CompleteAsync();
    }

    private void Hear()
    {
        if (!_toDevice.Reader.TryRead(out ReadResult read)) return;
        foreach (ReadOnlyMemory<byte> piece in read.Buffer)
        {
            ReadOnlySpan<byte> rest = piece.Span;
            while (_decoder.TryRead(ref rest, out ReadOnlySpan<byte> payload)) Obey(payload);
        }

        _toDevice.Reader.AdvanceTo(read.Buffer.End);
    }

    private void Obey(ReadOnlySpan<byte> payload)
    {
        var type = (MessageType)payload[0];
        // No event is ever sent, and nothing real moves that a keep-alive would have to guard.
        if (type is MessageType.KeepAlive or MessageType.AcknowledgeEvent) return;
        var number = (ushort)(payload[1] | (payload[2] << 8));
        if (number == _lastCommand && type is not (MessageType.AskHello or MessageType.Stop))
        {
            Say(_lastAnswer);
            return;
        }

        uint detail = 0;
        AnswerResult result = AnswerResult.Done;
        if (type == MessageType.Stream && StreamCommand.TryRead(payload, out StreamCommand stream)) _streams = stream.On;
        else if (type == MessageType.SetLimits && SetLimitsCommand.TryRead(payload, out SetLimitsCommand limits)) detail =
            Hold(limits, Crc16.Compute(payload));
        else if (type == MessageType.Feed) Begin(MotionState.Feeding);
        else if (type == MessageType.Move && MoveCommand.TryRead(payload, out MoveCommand move)) Move(move.TargetSteps);
        else if (type == MessageType.Stop) Stop();
        else if (type is not (MessageType.AskHello or MessageType.ClearFaults)) result = AnswerResult.NotCapable;
        _lastCommand = number;
        _lastAnswer = _payload[..new AnswerMessage(number, type, result, detail).Write(_payload)];
        Say(_lastAnswer);
        if (type == MessageType.AskHello) SayHello();
    }

    private uint Hold(SetLimitsCommand limits, ushort checksum)
    {
        _limitsId = limits.LimitsId;
        return limits.LimitsId | ((uint)checksum << 16);
    }

    private void Begin(MotionState motion)
    {
        _motion = motion;
        _roundsLeft = ShortMotionRounds;
        _stopAsked = false;
    }

    private void Move(int target)
    {
        bool first = _loaded && !_signal.Plays && !_signal.RecordedMotionIsOver;
        // A change of speed during the pull is part of what was recorded.
        if (_signal.Plays && !_stopAsked && target == _target) return;
        _target = target;
        Begin(MotionState.Moving);
        if (first) _signal.Play();
        else _signal.LetGo(target);
    }

    private void Stop()
    {
        _stopAsked = true;
        if (_motion == MotionState.Moving) _motion = MotionState.Stopping;
    }

    private void SendSamples(double untilMicroseconds)
    {
        bool any = false;
        while (_signal.NowMicroseconds < untilMicroseconds)
        {
            List<RawSample> block = TakeBlock(untilMicroseconds);
            GoOnMoving();
            SendBlock(block);
            any = true;
        }

        if (_roundsLeft > 0) _roundsLeft--;
        if (any) return;
        GoOnMoving();
        SendBlock([]);
    }

    /// <summary>Samples that one head describes: numbers without a gap, stamps in step with the period.</summary>
    private List<RawSample> TakeBlock(double untilMicroseconds)
    {
        var block = new List<RawSample>(SamplesMessage.CountMax);
        while (block.Count < SamplesMessage.CountMax && (_kept is not null || _signal.NowMicroseconds < untilMicroseconds))
        {
            RawSample sample = _kept ?? _signal.Take();
            _kept = null;
            if (block.Count > 0 && !Fits(block, sample))
            {
                _kept = sample;
                break;
            }

            block.Add(sample);
        }

        return block;
    }

    private bool Fits(List<RawSample> block, RawSample sample)
    {
        double expected = block[0].DeviceMicroseconds + (block.Count * _periodNanoseconds * 1e-3);
        return sample.Number == block[^1].Number + 1 && Math.Abs(sample.DeviceMicroseconds - expected) <= 1.5;
    }

    private void GoOnMoving()
    {
        if (_motion == MotionState.Still || _roundsLeft > 0) return;
        if (_motion == MotionState.Feeding)
        {
            _loaded = true;
            _signal.Clamp();
        }
        else if (_signal.Plays && !(_signal.RecordedMotionIsOver && (_stopAsked || _signal.Steps == _target)))
        {
            return;
        }
        else if (!_stopAsked && _signal.Steps != _target)
        {
            // The recording has ended while the host has not decided yet: the crosshead is still under way.
            return;
        }

        _motion = MotionState.Still;
    }

    private void SendBlock(List<RawSample> block)
    {
        if (!_streams) block.Clear();
        InputStates inputs = InputStates.ConverterAlive | InputStates.EmergencyStopReleased | InputStates.GuardClosed | (_loaded
            ? InputStates.SpecimenLoaded : 0);
        var state = new DeviceState(Boot, inputs, _motion, StateBits.Homed | StateBits.MotorEnabled, DeviceFaults.None, _limitsId,
            _lastCommand, 0);
        RawSample first = block.Count > 0 ? block[0] : new RawSample(0, 0, 0, _signal.Steps);
        var message = new SamplesMessage(state, (uint)first.Number, (uint)first.DeviceMicroseconds, _periodNanoseconds,
            first.CrossheadSteps, (byte)block.Count);
        Say(_payload.AsSpan(0, message.Write(_payload, [.. block.Select(s => s.Counts)], [.. block.Select(s => s.CrossheadSteps)])));
    }

    private void SayHello()
    {
        int bound = (1 << (_run.Head.ConverterBits - 1)) - 1;
        Say(_payload.AsSpan(0, new HelloMessage
        {
            VersionMajor = HelloMessage.MajorVersion,
            VersionMinor = HelloMessage.MinorVersion,
            BootNumber = Boot,
            DeviceId = Id,
            FirmwareVersion = 1,
            Capabilities = Capabilities.Motion | Capabilities.Position | Capabilities.Feeder | Capabilities.Simulated,
            ConverterRateMillihertz = (uint)Math.Round(1000 / _run.Head.IntervalSeconds),
            ConverterBits = (byte)_run.Head.ConverterBits,
            StepsPerMetre = (uint)Math.Round(_run.Head.StepsPerMillimetre * 1000),
            HardForceCountsMin = -bound,
            HardForceCountsMax = bound,
            HardTravelStepsMin = -10_000_000,
            HardTravelStepsMax = 10_000_000,
            HardSpeedStepsPerSecondMax = 1_000_000,
            HardAccelerationStepsPerSecondSquaredMax = 10_000_000,
            Name = "Replay device",
        }.Write(_payload)));
    }

    private void Say(ReadOnlySpan<byte> payload) => _toHost.Writer.Write(_frame.AsSpan(0, FrameEncoder.Encode(payload, _frame)));

    private sealed record HostEnd(PipeReader Input, PipeWriter Output) : IDuplexPipe;
}
