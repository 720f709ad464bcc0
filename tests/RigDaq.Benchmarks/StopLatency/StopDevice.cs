using System.Diagnostics;
using RigDaq.Benchmarks.Measuring;
using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;

namespace RigDaq.Benchmarks.StopLatency;

/// <summary>
/// A device on a pseudo-terminal in wall time that notes when the block with the deciding sample went onto the wire and when the first stop
/// came back. It takes commands as PROTOCOL.md says; for a rival that sends nothing but stops it pulls by itself.
/// </summary>
internal sealed class StopDevice : IDisposable
{
    public const ulong Id = 0x424E_4348_0000_0001;
    public const int SamplesABlock = 8;

    private const uint Boot = 4_711;
    private const int StepsPerMillimetre = 1600;
    private const int StepsASample = 3;
    private const int ShortMotionBlocks = 2;
    private const int StillBlocksBetweenPulls = 12;

    private readonly Pty _pty = new();
    private readonly PullSignal _signal;
    private readonly bool _pullsByItself;
    private readonly Lock _gate = new();
    private readonly FrameDecoder _decoder = new();
    private readonly byte[] _payload = new byte[FrameLimits.PayloadBytesMax];
    private readonly byte[] _frame = new byte[FrameLimits.WireBytesMax];
    private readonly int[] _counts = new int[SamplesABlock];
    private readonly int[] _steps = new int[SamplesABlock];
    private readonly List<(double Wire, double Sample)> _latencies = new(10_000);
    private byte[] _lastAnswer = [];
    private volatile bool _over;
    private bool _streams;
    private bool _specimen;
    private MotionState _motion;
    private int _blocksLeft;
    private int _position;
    private int _target;
    private ushort _limitsId;
    private ushort _lastCommand;
    private long _decidedOnWire;
    private double _decidedWaited;

    public StopDevice(int seed, bool pullsByItself)
    {
        (_signal, _pullsByItself, _streams) = (new PullSignal(seed), pullsByItself, pullsByItself);
        new Thread(Listen) { IsBackground = true, Name = "device hears" }.Start();
        new Thread(Send) { IsBackground = true, Name = "device converts" }.Start();
    }

    /// <summary>What a host opens.</summary>
    public string Path => _pty.Path;

    /// <summary>The length of a block in seconds.</summary>
    public static double BlockSeconds => SamplesABlock * PullSignal.PeriodMicroseconds * 1e-6;

    /// <summary>
    /// In seconds, of each stop: from when the kernel had the block's last byte, and from the deciding sample's conversion.
    /// </summary>
    public IReadOnlyList<(double Wire, double Sample)> Latencies
    {
        get { lock (_gate) return [.. _latencies]; }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _over = true;
        _pty.Dispose();
    }

    private void Listen()
    {
        byte[] buffer = new byte[4096];
        while (!_over)
        {
            int read = _pty.Read(buffer);
            long now = Stopwatch.GetTimestamp();
            if (read <= 0) break;
            lock (_gate)
            {
                ReadOnlySpan<byte> rest = buffer.AsSpan(0, read);
                while (_decoder.TryRead(ref rest, out ReadOnlySpan<byte> payload)) Obey(payload, now);
            }
        }
    }

    private void Send()
    {
        double block = BlockSeconds * Stopwatch.Frequency, due = Stopwatch.GetTimestamp() + block;
        while (!_over)
        {
            // A device converts in wall time; a late block does not make the next one late.
            while (Stopwatch.GetTimestamp() < due) Thread.Sleep(1);
            lock (_gate)
            {
                if (_over) return;
                SendBlock();
            }

            due += block;
        }
    }

    private void SendBlock()
    {
        bool decides = false;
        long first = _signal.Number;
        for (int i = 0; i < SamplesABlock; i++)
        {
            if (_signal.Number == _signal.DecidesAt)
            {
                decides = true;
                _decidedWaited = (SamplesABlock - 1 - i) * PullSignal.PeriodMicroseconds * 1e-6;
            }

            (_counts[i], bool parted) = _signal.Take();
            if (parted) _specimen = false;
            if (_motion == MotionState.Moving && _blocksLeft == 0) _position += StepsASample;
            _steps[i] = _position;
        }

        GoOn();
        if (!_streams) return;
        var state = new DeviceState(Boot, InputStates.ConverterAlive | InputStates.EmergencyStopReleased | InputStates.GuardClosed
            | (_specimen ? InputStates.SpecimenLoaded : 0), _motion, StateBits.Homed | StateBits.MotorEnabled, DeviceFaults.None,
            _limitsId, _lastCommand, 0);
        var message = new SamplesMessage(state, (uint)first, (uint)(first * PullSignal.PeriodMicroseconds),
            PullSignal.PeriodMicroseconds * 1000u, _steps[0], SamplesABlock);
        Say(_payload.AsSpan(0, message.Write(_payload, _counts, _steps)));
        if (decides) _decidedOnWire = Stopwatch.GetTimestamp();
    }

    private void GoOn()
    {
        if (_blocksLeft > 0 && --_blocksLeft > 0) return;
        if (_pullsByItself && !_signal.IsLoading && _signal.DecidesAt < 0) _signal.Begin();
        // Under load it moves until it is stopped, or until it is as far as it was told.
        if (_motion == MotionState.Moving && (_signal.IsLoading || _signal.DecidesAt >= 0) && _position < _target) return;
        if (_motion == MotionState.Feeding) _specimen = true;
        _motion = MotionState.Still;
    }

    private void Obey(ReadOnlySpan<byte> payload, long now)
    {
        var type = (MessageType)payload[0];
        if (type is MessageType.KeepAlive or MessageType.AcknowledgeEvent) return;
        if (type == MessageType.Stop) NoteStop(now);
        var number = (ushort)(payload[1] | (payload[2] << 8));
        if (number == _lastCommand && type is not (MessageType.AskHello or MessageType.Stop))
        {
            Say(_lastAnswer);
            return;
        }

        uint detail = 0;
        AnswerResult result = AnswerResult.Done;
        if (type == MessageType.Stream && StreamCommand.TryRead(payload, out StreamCommand stream)) _streams = stream.On;
        else if (type == MessageType.SetLimits && SetLimitsCommand.TryRead(payload, out SetLimitsCommand limits))
            detail = (_limitsId = limits.LimitsId) | ((uint)Crc16.Compute(payload) << 16);
        else if (type == MessageType.Feed) (_motion, _blocksLeft) = (MotionState.Feeding, ShortMotionBlocks);
        else if (type == MessageType.Move && MoveCommand.TryRead(payload, out MoveCommand move)) Move(move.TargetSteps);
        else if (type == MessageType.Stop) Stop();
        else if (type is not (MessageType.AskHello or MessageType.ClearFaults)) result = AnswerResult.NotCapable;
        _lastCommand = number;
        _lastAnswer = _payload[..new AnswerMessage(number, type, result, detail).Write(_payload)];
        if (!_pullsByItself) Say(_lastAnswer);
        if (type == MessageType.AskHello) SayHello();
    }

    private void Move(int target)
    {
        _target = target;
        _motion = MotionState.Moving;
        if (_signal.IsLoading) return;
        if (_specimen)
        {
            _signal.Begin();
            _blocksLeft = 0;
            return;
        }

        // Nothing is in the grips: where it goes, it is soon.
        (_position, _blocksLeft) = (target, ShortMotionBlocks);
    }

    private void Stop()
    {
        if (_motion == MotionState.Moving) (_motion, _blocksLeft) = (MotionState.Stopping, 1);
    }

    private void NoteStop(long now)
    {
        if (_decidedOnWire == 0)
        {
            // Before its block was sent nobody can have known: something else stopped it.
            return;
        }

        double wire = (now - _decidedOnWire) / (double)Stopwatch.Frequency;
        _latencies.Add((wire, wire + _decidedWaited));
        _decidedOnWire = 0;
        _signal.Forget();
        if (_pullsByItself) _blocksLeft = StillBlocksBetweenPulls;
    }

    private void SayHello()
    {
        const int bound = (1 << 23) - 1;
        Say(_payload.AsSpan(0, new HelloMessage
        {
            VersionMajor = HelloMessage.MajorVersion,
            VersionMinor = HelloMessage.MinorVersion,
            BootNumber = Boot,
            DeviceId = Id,
            FirmwareVersion = 1,
            Capabilities = Capabilities.Motion | Capabilities.Position | Capabilities.Feeder | Capabilities.Simulated,
            ConverterRateMillihertz = (uint)(1e9 / PullSignal.PeriodMicroseconds),
            ConverterBits = 24,
            StepsPerMetre = StepsPerMillimetre * 1000,
            HardForceCountsMin = -bound,
            HardForceCountsMax = bound,
            HardTravelStepsMin = -10_000_000,
            HardTravelStepsMax = 10_000_000,
            HardSpeedStepsPerSecondMax = 1_000_000,
            HardAccelerationStepsPerSecondSquaredMax = 10_000_000,
            Name = "Stop device",
        }.Write(_payload)));
    }

    private void Say(ReadOnlySpan<byte> payload) => _pty.Write(_frame, FrameEncoder.Encode(payload, _frame));
}
