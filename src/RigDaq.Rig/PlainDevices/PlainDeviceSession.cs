using RigDaq.Core.Signal;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Links;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>The session with a device that only prints numbers or is asked for them: lines become samples of a device that measures and
/// cannot move. Every line that is not a comment takes a sample number, so that a dropped one counts as lost.</summary>
/// <remarks>Used by one thread, as every session.</remarks>
internal sealed class PlainDeviceSession : IDeviceSession
{
    /// <summary>How often the state is told at least.</summary>
    public static readonly TimeSpan StateInterval = TimeSpan.FromMilliseconds(100);

    /// <summary>Without a reading for so long, and for <see cref="DeadPeriods"/> periods, the device counts as silent.</summary>
    public const double DeadSecondsMin = 1;

    /// <summary>See <see cref="DeadSecondsMin"/>.</summary>
    public const int DeadPeriods = 6;

    private readonly string _linkName;
    private readonly PlainDeviceSettings _settings;
    private readonly TimeProvider _time;
    private readonly ISessionListener _listener;
    private readonly InstrumentAsker? _asker;
    private readonly LineCutter _cutter;
    private readonly ArrivalClock _arrivals = new();
    private readonly PrintedClock? _printed;
    private readonly LineTally _tally = new();
    private PlainDeviceIdentity? _identity;
    private uint _boot;
    private long _number;
    private long _lastStamp;
    private long _expectedNumber = -1;
    private ushort _lastCommand;
    private long? _lastReading;
    private long _openedAt;
    private long _toldAt;
    private bool _isStreaming;
    private bool _failed;
    private double _askedSquare;

    /// <param name="linkName">What it leads to, for people.</param>
    /// <param name="settings">How the device speaks; they must be in order.</param>
    /// <param name="time">For stamps and waits.</param>
    /// <param name="listener">Told what is learnt.</param>
    /// <param name="asker">Asks the device; null where it prints by itself. It is started and ended here.</param>
    public PlainDeviceSession(string linkName, PlainDeviceSettings settings, TimeProvider time, ISessionListener listener,
        InstrumentAsker? asker = null)
    {
        _linkName = linkName;
        _settings = settings;
        _time = time;
        _listener = listener;
        _asker = asker;
        _cutter = new LineCutter(startsWhole: asker is not null);
        _identity = settings.Query is { Identify: true } ? null : PlainDeviceIdentity.Of(settings.Name);
        // Any number that differs from the last start's; the clock gives one without another source of chance.
        _boot = Math.Max(1, (uint)(time.GetUtcNow().Ticks / 1_000));
        _printed = settings.Format.TimeColumn is null ? null : new PrintedClock(settings.Format.TimeUnit);
        Times = new SampleTimes(time);
    }

    public HelloMessage? Hello { get; private set; }

    public DeviceState State { get; private set; }

    public bool StateKnown { get; private set; }

    public long SamplesReceived { get; private set; }

    public long SamplesLost { get; private set; }

    public long EventsLost => 0;

    public DeviceLimits? LimitsInForce => null;

    public SampleTimes Times { get; private set; }

    public bool MayBeSilent => true;

    public LinkNews News { get; private set; } = LinkNews.None;

    /// <summary>The mean interval between readings in microseconds; null before it is known.</summary>
    public double? PeriodMicroseconds => _printed is null ? _arrivals.PeriodMicroseconds : _printed.PeriodMicroseconds;

    /// <summary>The standard uncertainty of a stamp in seconds: the jitter of arrivals, or the step of the printed time; 0 before it is
    /// known.</summary>
    public double StampStandardUncertaintySeconds
    {
        get
        {
            // A value rounded or cut to a step is anywhere within it: the step over √12 (JCGM 100, 4.3.7).
            if (_printed is { } printed) return printed.StepMicroseconds / Math.Sqrt(12) * 1e-6;
            return (_asker is not null ? Math.Sqrt(_askedSquare) : _arrivals.JitterMicroseconds ?? 0) * 1e-6;
        }
    }

    public void Open()
    {
        _openedAt = _time.GetTimestamp();
        if (_identity is { } identity) Greet(identity);
        _asker?.Start(this);
    }

    public void Handle(ReadOnlySpan<byte> payload, long arrivedAt)
    {
        int count = payload.Length;
        while (_cutter.TryRead(ref payload, out CutLine line))
        {
            if (_asker is not null) _asker.Answered(line, arrivedAt);
            else TakeLine(line, arrivedAt);
        }

        _tally.AddBytes(count, _cutter.BytesWithoutEnd);
    }

    /// <summary>The instrument has said who it is.</summary>
    public void TakeIdentity(string name)
    {
        if (!_failed) Greet(_identity = PlainDeviceIdentity.Of(name));
    }

    /// <summary>Takes the answer to a query. The instrument measured between the two times; the middle is its stamp.</summary>
    public void TakeAnswer(CutLine line, long askedAt, long arrivedAt)
    {
        if (_failed) return;
        long asked = Microseconds(askedAt), arrived = Microseconds(arrivedAt);
        // Anywhere between the two with equal right: half the width over √3 (JCGM 100, 4.3.7).
        double half = (arrived - asked) / 2.0;
        _askedSquare += ((half * half / 3) - _askedSquare) / 32;
        if (_printed is null && line.Fault == LineFault.None && LineParser.Read(_settings.Format, line.Text)
            is { Kind: LineKind.Reading } reading)
        {
            // An interval that the host sets itself needs no smoothing.
            _ = _arrivals.Stamp(arrived);
            Keep(reading, (asked + arrived) / 2, arrivedAt);
            return;
        }

        TakeLine(line, arrivedAt);
    }

    /// <summary>A question was not answered in time.</summary>
    public void NoteUnanswered() => _tally.AddUnanswered();

    /// <summary>An answer came when no question was open.</summary>
    public void NoteUnasked() => _tally.AddUnasked();

    public void Tick(long bytesReceived, long framesGood)
    {
        if (_failed || _time.GetElapsedTime(_toldAt) < StateInterval) return;
        TellState();
        News = MakeNews();
        if (Hello is not null || _time.GetElapsedTime(_openedAt) <= DeviceSession.GreetingMax) return;
        _failed = true;
        _listener.SessionFailed(new LinkEnd(LinkEndKind.NotUnderstood, RigText.DoesNotSayWhatItIs(_linkName)));
    }

    public void KeepAlive()
    {
        // Nothing of it moves.
    }

    public void Stop(bool atOnce, Action<CommandOutcome> done) => done(Answer(AnswerResult.Done));

    public void SetLimits(DeviceLimits limits, Action<Sentence?> done)
        => done(RigText.LimitsNotTaken(Answer(AnswerResult.NotCapable).Words));

    public void Move(MoveKind kind, int speedStepsPerSecond, uint accelerationStepsPerSecondSquared, int targetSteps,
        Action<CommandOutcome> done) => done(Answer(AnswerResult.NotCapable));

    public void Home(uint speedStepsPerSecond, Action<CommandOutcome> done) => done(Answer(AnswerResult.NotCapable));

    public void Feed(Action<CommandOutcome> done) => done(Answer(AnswerResult.NotCapable));

    public void ClearFaults(DeviceFaults faults, Action<CommandOutcome> done) => done(Answer(AnswerResult.Done));

    public void Stream(bool on, uint rateMillihertz, Action<CommandOutcome> done)
    {
        _isStreaming = on;
        done(Answer(AnswerResult.Done));
    }

    public void Channel(int channel, bool on, Action<ChannelHead?> done) => done(null);

    public void End(Sentence words)
    {
        _failed = true;
        StateKnown = false;
    }

    private double DeadSeconds => Math.Max(DeadSecondsMin, DeadPeriods * (PeriodMicroseconds ?? 0) * 1e-6);

    private uint PeriodNanoseconds => PeriodMicroseconds is { } period ? (uint)Math.Min(period * 1000, uint.MaxValue) : 0;

    private double? SilentSeconds => _lastReading is { } last ? _time.GetElapsedTime(last).TotalSeconds : null;

    private long Microseconds(long timestamp) => (long)_time.GetElapsedTime(0, timestamp).TotalMicroseconds;

    private CommandOutcome Answer(AnswerResult result) => new(++_lastCommand, true, result, 0, DeviceWords.Of(result));

    private void TakeLine(CutLine line, long arrivedAt)
    {
        // What was left of a line that began before the port was opened is no sample of this start.
        if (line.Fault == LineFault.Beheaded) return;
        if (line.Fault != LineFault.None)
        {
            Drop(line, line.Fault == LineFault.TooLong ? RigText.LineTooLong(LineCutter.LineBytesMax) : RigText.LineNoText);
            return;
        }

        LineReading reading = LineParser.Read(_settings.Format, line.Text);
        if (reading.Kind == LineKind.Comment) _tally.AddComment();
        else if (reading.Kind == LineKind.Refused) Drop(line, reading.Why!);
        else if (_printed is null) Keep(reading, _arrivals.Stamp(Microseconds(arrivedAt)), arrivedAt);
        else TakePrinted(_printed, line, reading, arrivedAt);
    }

    private void TakePrinted(PrintedClock clock, CutLine line, LineReading reading, long arrivedAt)
    {
        long arrived = Microseconds(arrivedAt);
        _ = _arrivals.Stamp(arrived);
        switch (clock.Take(reading.TimeUnits ?? 0, reading.TimeDecimals, arrived, out long stamp))
        {
            case PrintedTime.Implausible:
                Drop(line, RigText.TimeDoesNotFit);
                return;
            case PrintedTime.Restarted:
                Restart();
                break;
            default:
                break;
        }

        Keep(reading, stamp, arrivedAt);
    }

    /// <summary>Another start: what was said to the device before no longer holds, and a pull under way is over.</summary>
    private void Restart()
    {
        _boot = _boot == uint.MaxValue ? 1 : _boot + 1;
        _number = 0;
        _expectedNumber = -1;
        (SamplesReceived, SamplesLost) = (0, 0);
        Times = new SampleTimes(_time);
        StateKnown = false;
        if (Hello is null || _identity is not { } identity) return;
        Hello = Describe(identity);
        _listener.DeviceRestarted();
        _listener.DeviceKnown(Hello.Value);
    }

    private void Keep(LineReading reading, long stamp, long arrivedAt)
    {
        _tally.AddReading(reading.BeyondRange);
        _lastReading = arrivedAt;
        _lastStamp = stamp;
        long number = _number++;
        if (!_isStreaming || Hello is null) return;
        long lost = _expectedNumber >= 0 ? Math.Max(0, number - _expectedNumber) : 0;
        _expectedNumber = number + 1;
        SamplesLost += lost;
        SamplesReceived++;
        Times.Add(stamp, arrivedAt);
        Tell([new RawSample(number, stamp, reading.Counts, 0)], lost, arrivedAt);
    }

    private void Drop(CutLine line, Sentence why)
    {
        _tally.AddDropped(line, why);
        _number++;
    }

    private void Greet(PlainDeviceIdentity identity)
    {
        Hello = Describe(identity);
        _listener.DeviceKnown(Hello.Value);
        TellState();
    }

    private HelloMessage Describe(PlainDeviceIdentity identity) => new()
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
        LineBytesPerSecond = HelloMessage.LineUnbound,
        Name = identity.Name,
    };

    private void TellState()
    {
        _toldAt = _time.GetTimestamp();
        if (Hello is not null) Tell([], 0, _toldAt);
    }

    private void Tell(ReadOnlySpan<RawSample> samples, long lost, long arrivedAt)
    {
        bool isAlive = SilentSeconds <= DeadSeconds;
        State = new DeviceState(_boot, isAlive ? InputStates.ConverterAlive : InputStates.None, MotionState.Still, StateBits.None,
            DeviceFaults.None, 0, _lastCommand, 0);
        StateKnown = true;
        _listener.BlockArrived(new BlockHead(State, _lastStamp, 0, PeriodNanoseconds, lost, arrivedAt), samples);
    }

    private LinkNews MakeNews()
    {
        double silent = SilentSeconds ?? 0;
        var words = new List<Sentence>(_tally.Words(silent > DeadSeconds ? silent : 0, _asker is not null));
        double uncertainty = StampStandardUncertaintySeconds;
        if (_printed is null && PeriodMicroseconds is { } period && _arrivals.JitterMicroseconds is not null)
            words.Add(RigText.StampsMadeHere(1e6 / period, uncertainty * 1e3));
        return new LinkNews(words, uncertainty, _tally.Dropped);
    }
}
