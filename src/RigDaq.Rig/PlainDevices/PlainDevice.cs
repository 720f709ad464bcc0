using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Links;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>
/// A device that only prints numbers, as the wire would have it: it takes lines and commands and gives the frames of a device that
/// measures and cannot move. Every line that is not a comment takes a sample number, so that a dropped one counts as lost.
/// </summary>
/// <remarks>Pure but for its own state: times come in as data. Not thread-safe.</remarks>
internal sealed class PlainDevice
{
    /// <summary>How often the state is told at least.</summary>
    public static readonly TimeSpan StateInterval = TimeSpan.FromMilliseconds(100);

    /// <summary>Without a reading for so long, and for <see cref="DeadPeriods"/> periods, the device counts as silent.</summary>
    public const double DeadSecondsMin = 1;

    /// <summary>See <see cref="DeadSecondsMin"/>.</summary>
    public const int DeadPeriods = 6;

    private readonly LineFormat _format;
    private readonly bool _isAsked;
    private readonly ArrivalClock _arrivals = new();
    private readonly PrintedClock? _printed;
    private readonly LineTally _tally = new();
    private readonly byte[] _payload = new byte[FrameLimits.PayloadBytesMax];
    private readonly byte[] _frame = new byte[FrameLimits.WireBytesMax];
    private readonly Action<ReadOnlyMemory<byte>> _send;
    private PlainDeviceIdentity? _identity;
    private uint _boot;
    private uint _number;
    private uint _lastStamp;
    private ushort _lastCommand;
    private long _lastReading = long.MinValue;
    private bool _streaming;
    private bool _helloWanted;
    private double _askedSquare;

    /// <param name="format">How lines are read; it must be in order.</param>
    /// <param name="identity">Who it is; null where it has still to say so.</param>
    /// <param name="isAsked">Whether it is asked for each reading, or prints by itself.</param>
    /// <param name="boot">The number of this start.</param>
    /// <param name="send">Takes each frame; the memory is used again.</param>
    public PlainDevice(LineFormat format, PlainDeviceIdentity? identity, bool isAsked, uint boot, Action<ReadOnlyMemory<byte>> send)
    {
        _format = format;
        _identity = identity;
        _isAsked = isAsked;
        _boot = Math.Max(1, boot);
        _send = send;
        _printed = format.TimeColumn is null ? null : new PrintedClock(format.TimeUnit);
    }

    /// <summary>What became of the lines.</summary>
    public LineTally Tally => _tally;

    /// <summary>The mean interval between readings in microseconds; null before it is known.</summary>
    public double? PeriodMicroseconds => _printed is null ? _arrivals.PeriodMicroseconds : _printed.PeriodMicroseconds;

    /// <summary>The standard uncertainty of a stamp in seconds: the jitter of arrivals, or the step of the printed time; 0 before it is known.</summary>
    public double StampStandardUncertaintySeconds
    {
        get
        {
            // A value rounded or cut to a step is anywhere within it: the step over √12 (JCGM 100, 4.3.7).
            if (_printed is { } printed) return printed.StepMicroseconds / Math.Sqrt(12) * 1e-6;
            return (_isAsked ? Math.Sqrt(_askedSquare) : _arrivals.JitterMicroseconds ?? 0) * 1e-6;
        }
    }

    /// <summary>The instrument has said who it is.</summary>
    public void Identify(PlainDeviceIdentity identity)
    {
        _identity = identity;
        if (_helloWanted) SayHello();
    }

    /// <summary>Takes a line that the device printed by itself.</summary>
    /// <param name="line">The line.</param>
    /// <param name="arrived">When it arrived, in microseconds of the host's monotonic clock.</param>
    public void TakeLine(CutLine line, long arrived)
    {
        // What was left of a line that began before the port was opened is no sample of this start.
        if (line.Fault == LineFault.Beheaded) return;
        if (line.Fault != LineFault.None)
        {
            Drop(line, line.Fault == LineFault.TooLong ? RigText.LineTooLong(LineCutter.LineBytesMax) : RigText.LineNoText);
            return;
        }

        LineReading reading = LineParser.Read(_format, line.Text);
        if (reading.Kind == LineKind.Comment) _tally.AddComment();
        else if (reading.Kind == LineKind.Refused) Drop(line, reading.Why);
        else if (_printed is null) Keep(reading, _arrivals.Stamp(arrived), arrived);
        else TakePrinted(_printed, line, reading, arrived);
    }

    /// <summary>Takes the answer to a query. The instrument measured between the two times; the middle is its stamp.</summary>
    public void TakeAnswer(CutLine line, long asked, long arrived)
    {
        // Anywhere between the two with equal right: half the width over √3 (JCGM 100, 4.3.7).
        double half = (arrived - asked) / 2.0;
        _askedSquare += ((half * half / 3) - _askedSquare) / 32;
        if (_printed is null && line.Fault == LineFault.None && LineParser.Read(_format, line.Text) is { Kind: LineKind.Reading } reading)
        {
            // An interval that the host sets itself needs no smoothing.
            _ = _arrivals.Stamp(arrived);
            Keep(reading, (asked + arrived) / 2, arrived);
            return;
        }

        TakeLine(line, arrived);
    }

    /// <summary>Takes a command of the host.</summary>
    /// <param name="payload">Type byte and body.</param>
    /// <param name="now">In microseconds of the host's monotonic clock.</param>
    public void TakeCommand(ReadOnlySpan<byte> payload, long now)
    {
        if (payload.Length < 3) return;
        var type = (MessageType)payload[0];
        if (type is MessageType.KeepAlive or MessageType.AcknowledgeEvent || payload[0] < 0x40) return;
        var command = (ushort)(payload[1] | (payload[2] << 8));
        _lastCommand = command;
        AnswerResult result = type switch
        {
            MessageType.AskHello or MessageType.Stop or MessageType.ClearFaults or MessageType.Stream => AnswerResult.Done,
            MessageType.SetLimits or MessageType.Move or MessageType.Home or MessageType.Feed => AnswerResult.NotCapable,
            _ => AnswerResult.UnknownType,
        };
        if (type == MessageType.Stream && StreamCommand.TryRead(payload, out StreamCommand stream)) _streaming = stream.On;
        Send(new AnswerMessage(command, type, result, 0).Write(_payload));
        if (type != MessageType.AskHello) return;
        _helloWanted = true;
        if (_identity is not null) SayHello();
        TellState(now);
    }

    /// <summary>Tells the state; to be called every <see cref="StateInterval"/>.</summary>
    public void TellState(long now)
    {
        if (_identity is null) return;
        var block = new SamplesMessage(State(now), _number, _lastStamp, PeriodNanoseconds, 0, 0);
        Send(block.Write(_payload, [], []));
    }

    /// <summary>What a person should know now.</summary>
    public LinkNews News(long now)
    {
        var words = new List<string>();
        double silent = _lastReading == long.MinValue ? 0 : (now - _lastReading) * 1e-6;
        words.AddRange(_tally.Words(silent > DeadSeconds ? silent : 0, _isAsked));
        double uncertainty = StampStandardUncertaintySeconds;
        if (_printed is null && PeriodMicroseconds is { } period && _arrivals.JitterMicroseconds is not null)
        {
            words.Add(RigText.StampsMadeHere(1e6 / period, uncertainty * 1e3));
        }

        return new LinkNews(words, uncertainty, _tally.Dropped);
    }

    private double DeadSeconds => Math.Max(DeadSecondsMin, DeadPeriods * (PeriodMicroseconds ?? 0) * 1e-6);

    private uint PeriodNanoseconds => PeriodMicroseconds is { } period ? (uint)Math.Min(period * 1000, uint.MaxValue) : 0;

    private void TakePrinted(PrintedClock clock, CutLine line, LineReading reading, long arrived)
    {
        _ = _arrivals.Stamp(arrived);
        switch (clock.Take(reading.TimeUnits ?? 0, reading.TimeDecimals, arrived, out long stamp))
        {
            case PrintedTime.Implausible:
                Drop(line, RigText.TimeDoesNotFit);
                return;
            case PrintedTime.Restarted:
                // Another start: what was said to it before no longer holds, and a pull under way is over.
                _boot = _boot == uint.MaxValue ? 1 : _boot + 1;
                _number = 0;
                SayHello();
                break;
            default:
                break;
        }

        Keep(reading, stamp, arrived);
    }

    private void Keep(LineReading reading, long stamp, long arrived)
    {
        _tally.AddReading(reading.BeyondRange);
        _lastReading = arrived;
        _lastStamp = unchecked((uint)stamp);
        if (_streaming && _identity is not null)
        {
            var block = new SamplesMessage(State(arrived), _number, _lastStamp, PeriodNanoseconds, 0, 1);
            Send(block.Write(_payload, [reading.Counts], [0]));
        }

        _number++;
    }

    private void Drop(CutLine line, string why)
    {
        _tally.AddDropped(line, why);
        _number++;
    }

    private DeviceState State(long now)
    {
        bool alive = _lastReading != long.MinValue && (now - _lastReading) * 1e-6 <= DeadSeconds;
        return new DeviceState(
            _boot, alive ? InputStates.ConverterAlive : InputStates.None, MotionState.Still, StateBits.None, DeviceFaults.None, 0, _lastCommand, 0);
    }

    private void SayHello()
    {
        if (_identity is not { } identity) return;
        Send(new HelloMessage
        {
            VersionMajor = HelloMessage.MajorVersion,
            VersionMinor = HelloMessage.MinorVersion,
            BootNumber = _boot,
            DeviceId = identity.Id,
            Capabilities = Capabilities.None,
            ConverterRateMillihertz = PeriodMicroseconds is { } period ? (uint)Math.Min(1e9 / period, uint.MaxValue) : 0,
            ConverterBits = 24,
            HardForceCountsMin = -LineParser.CountsMax,
            HardForceCountsMax = LineParser.CountsMax,
            Name = identity.Name,
        }.Write(_payload));
    }

    private void Send(int length) => _send(_frame.AsMemory(0, FrameEncoder.Encode(_payload.AsSpan(0, length), _frame)));
}
