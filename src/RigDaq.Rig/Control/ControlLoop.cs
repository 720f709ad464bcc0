using Microsoft.Extensions.Logging;
using RigDaq.Core.Signal;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Links;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Control;

/// <summary>
/// The one thread on which everything about a rig is decided. It takes what has arrived and hands it to whoever works on it: the link, the
/// signal, the pull, the sequence, hand motion. It sends the keep-alive: when it hangs, the keep-alive stays away and the device stops.
/// </summary>
internal sealed class ControlLoop : ISessionListener
{
    /// <summary>How often the loop looks at its timers at least, in wall time.</summary>
    public static readonly TimeSpan TickInterval = TimeSpan.FromMilliseconds(25);

    /// <summary>How often a snapshot is made while only figures change, in wall time.</summary>
    public static readonly TimeSpan SnapshotInterval = TimeSpan.FromMilliseconds(50);

    private readonly ControlInbox _inbox;
    private readonly FramePool _pool;
    private readonly LiveFanOut _live;
    private readonly Action<RigSnapshot> _publish;
    private readonly LoopContext _context;
    private readonly SignalWatch _signal = new();
    private readonly DeviceView _device;
    private readonly SampleStream _stream;
    private readonly ZeroAndLimits _zero;
    private readonly PullRecording _pull;
    private readonly SnapshotBuilder _snapshots;
    private readonly List<TaskCompletionSource> _waitToCatchUp = [];
    private long _lastTick;
    private long _lastSnapshot;

    public ControlLoop(RigServices services, RigControllerOptions options, ControlInbox inbox, FramePool pool, LiveFanOut live,
        Action<RigSnapshot> publish)
    {
        _inbox = inbox;
        _pool = pool;
        _live = live;
        _publish = publish;
        _context = new LoopContext(services, options, inbox);
        Link = new DeviceLink(_context, this);
        _device = new DeviceView(Link);
        _stream = new SampleStream(_context, Link);
        Calibration = new ActiveCalibration(_context, _device, AgainstCalibration, CalibrationChanged);
        _zero = new ZeroAndLimits(_context, _device, Calibration);
        EmergencyStop = new EmergencyStopCheck(_context, _device);
        Conditions = new MotionConditions(_context, _device, Calibration, _zero, _signal, EmergencyStop);
        _pull = new PullRecording(_context, _device, Calibration, _zero, _signal, _stream);
        Sequence = new SequenceRunner(_context, _device, Calibration, _zero, Conditions, _signal, _pull);
        Hand = new HandMotion(_context, _device, _zero, Conditions, Sequence);
        HandZero = new HandZero(_context, _device, _zero, _signal, Sequence);
        _snapshots = new SnapshotBuilder
        {
            Loop = _context,
            Device = _device,
            Stream = _stream,
            Calibration = Calibration,
            Zero = _zero,
            EmergencyStop = EmergencyStop,
            Conditions = Conditions,
            Sequence = Sequence,
            Pull = _pull,
            Hand = Hand,
            Signal = _signal,
            Live = live,
        };
        _context.Sequence = () => Sequence.State;
        _context.Raise = Sequence.Raise;
        _context.OnConditionsChanged = Sequence.OnConditionsChanged;
        _lastTick = _context.Time.GetTimestamp();
    }

    public DeviceLink Link { get; }

    public ActiveCalibration Calibration { get; }

    public EmergencyStopCheck EmergencyStop { get; }

    public MotionConditions Conditions { get; }

    public SequenceRunner Sequence { get; }

    public HandMotion Hand { get; }

    public HandZero HandZero { get; }

    /// <summary>Runs until the inbox has ended and is empty; whoever still waits for something is then told.</summary>
    public void Run()
    {
        Scheduling.TryRaiseThisThread();
        while (Turn(TickInterval))
        {
        }

        TellCaughtUp();
        Link.End();
        Hand.Forget();
        HandZero.Forget();
        _pull.TellWaiting();
        _live.End();
    }

    /// <summary>Waits for the next thing at most so long and works on it; timers that are due have their turn. For whoever drives the
    /// clock, who is then this loop's thread.</summary>
    /// <returns>False where nothing more comes.</returns>
    internal bool Turn(TimeSpan waitMax)
    {
        if (!_inbox.Take(waitMax, out Action? action, out FrameBuffer? frame)) return false;
        try
        {
            action?.Invoke();
            if (frame is { CaughtUp: { } waiter }) _waitToCatchUp.Add(waiter);
            else if (frame is not null) TakeFrame(frame);
            if (_context.Time.GetElapsedTime(_lastTick) >= TickInterval) Tick();
        }
        catch (Exception e)
        {
            // The loop must go on: it alone can stop the rig and end the pull. What failed is logged whole.
            _context.Log.LogError(e, "The control loop failed at one step; the rig is stopped and the sequence held.");
            StopAfterFailure(e);
        }

        if (frame is { CaughtUp: null }) _pool.Return(frame);
        if (_context.OffLoop == 0) TellCaughtUp();
        return true;
    }

    /// <summary>Whether nothing that was given to other threads is still under way. For whoever drives the clock.</summary>
    /// <param name="waiting">How much of it waits for that clock: it counts as at rest.</param>
    internal bool IsAtRestBut(int waiting) => _context.OffLoop == waiting && _pull.HasWritten;

    /// <summary>What the sequence is at; null where there is none. For whoever plays the person.</summary>
    internal SequenceStep? Step => Sequence.State?.Step;

    /// <summary>A link is open.</summary>
    public void LinkOpened(FramePump pump)
    {
        // Where the loop was held up, the end of the link before may still wait behind this.
        if (Link.Pump is { } before) LinkLost(before);
        Link.Open(pump);
        _context.PublishSoon();
    }

    /// <summary>A link could not be opened.</summary>
    public void LinkFailed(Sentence message)
    {
        Link.NoteFailed(message);
        Sequence.OnConditionsChanged();
        _context.PublishSoon();
    }

    /// <summary>Stops the crosshead, whatever is going on.</summary>
    public CommandResult StopEverything()
    {
        Hand.ForgetJog();
        // A hello that has not come yet may be that of a device with a motor.
        bool sent = Link.Session is not null, isByHand = Link.Session?.Hello is { } hello
            && !hello.Capabilities.HasFlag(Capabilities.Motion);
        bool isSequence = Sequence.IsUnfinished;
        if (isSequence) Sequence.Raise(new StopAsked());
        else Link.Session?.Stop(atOnce: true, _ => { });
        return CommandResult.Ok(isByHand ? RigText.StopTurning(isSequence) : sent ? RigText.ToldToStop : RigText.NothingToStop);
    }

    /// <summary>Starts a sequence, or says why not. A held jog ends.</summary>
    public CommandResult StartSequence(SequencePlan plan) => Sequence.Start(plan, Hand.StopJog);

    /// <summary>Stops and ends the pull; tells when its run is stored and the stop has arrived (or cannot any more).</summary>
    public void EndProgram(Action ended)
    {
        Hand.ForgetJog();
        Sequence.Raise(new ProgramEnds());
        // A link that is closed too soon may take an unsent stop with it. The device would stop by itself, but half a second
        // later.
        if (Link.Session is { Hello: not null } session) session.Stop(atOnce: true, _ => _pull.WhenStored(ended));
        else _pull.WhenStored(ended);
    }

    /// <summary>Makes a snapshot and shows it.</summary>
    public void PublishSnapshot()
    {
        _context.IsSnapshotWanted = false;
        _lastSnapshot = _context.Time.GetTimestamp();
        _publish(_snapshots.Make());
    }

    void ISessionListener.DeviceKnown(HelloMessage hello)
    {
        bool another = _device.Greet(hello);
        Link.Greet(hello);
        _context.Log.LogInformation("Connected to {Name} ({Device}), firmware {Firmware}.", hello.Name, _device.Id, hello.FirmwareVersion);
        _signal.Reset();
        if (another)
        {
            EmergencyStop.Forget();
            _zero.ForgetZero();
            Sequence.Raise(new AnotherDevice());
            Calibration.Forget();
        }

        Calibration.LookUp(_device.Id!);
        EmergencyStop.LookUp(_device.Id!);
        _pull.ForgetChannels();
        _stream.Start(hello);
        Sequence.OnConditionsChanged();
        _context.PublishSoon();
    }

    void ISessionListener.DeviceRestarted()
    {
        _device.NoteRestart();
        Sequence.ForgetMotion();
        _context.Log.LogWarning("The device has restarted.");
        Hand.Forget();
        HandZero.Forget();
        Sequence.Raise(new DeviceStartedAnew());
        Sequence.OnConditionsChanged();
        _context.PublishSoon();
    }

    /// <summary>The fan-out: a block goes to the disk, to the decision and to the eyes.</summary>
    public void BlockArrived(in BlockHead head, ReadOnlySpan<RawSample> samples)
    {
        DeviceState before = _device.Take(head);
        EmergencyStop.Watch(head.State);
        if (samples.Length > 0)
        {
            _pull.Keep(samples);
            _signal.Take(samples);
            _live.Take(samples, head.LostBefore, LiveContext());
            _device.Average(samples, _zero.Newtons);
        }

        Sequence.OnConditionsChanged();
        Sequence.WatchMotion(before, head.State);
        Hand.Watch(before, head.State);
        // The numbers of commands and events alone are nothing to be seen.
        if (before with { LastCommand = head.State.LastCommand, PendingEvent = head.State.PendingEvent } != head.State) _context
            .PublishSoon();
    }

    void ISessionListener.EventsMissed(int count)
    {
        _context.Log.LogWarning("{Count} events of the device had no room in its queue; what they told is believed of its state.", count);
        // One of them may have been a guard that opened and closed.
        HearGuardOpening(isCertain: false);
    }

    void ISessionListener.EventArrived(EventMessage message)
    {
        // The state in the blocks is believed over any event. But a guard that opened and closed between two blocks is seen by
        // its event only.
        if (message.Code == DeviceEventCode.GuardOpened) HearGuardOpening(isCertain: true);
        if (message.Code == DeviceEventCode.Started)
        {
            _device.StartedBecause = message.StartedBecause;
            if (DeviceWords.Of(message.StartedBecause) is { IsEmpty: false } why && _context.Log.IsEnabled(LogLevel.Warning))
                _context.Log.LogWarning("The device started: {Why}.", why);
            Sequence.OnConditionsChanged();
            _context.PublishSoon();
        }

        if (_context.Log.IsEnabled(LogLevel.Debug))
            _context.Log.LogDebug("Device event {Code} at {Stamp} µs, detail {Detail}.", message.Code, message.StampMicroseconds,
                message.Detail);
    }

    void ISessionListener.ChannelArrived(ChannelHead head, ReadOnlySpan<ChannelSample> values)
    {
        _stream.Take(head, values);
        _pull.Keep(head.Index, values);
    }

    void ISessionListener.SessionFailed(LinkEnd end) => Link.Pump?.Link.Close(end);

    /// <summary>Where it counts for the sequence, the guard stands open until a later block tells: the state that is known may be of
    /// before.</summary>
    private void HearGuardOpening(bool isCertain)
    {
        Sequence.Raise(new GuardHeardOpening(isCertain));
        _device.GuardHeardOpening = Sequence.State is { Rig.Facts.GuardClosed: false };
    }

    private LiveContext LiveContext() =>
        new(Calibration.Curve, _zero.Counts, _device.StepsPerMillimetre, _device.Hello?.BootNumber ?? 0, _pull.RunningId);

    private Sentence? AgainstCalibration()
    {
        if (_pull.Current is not null) return RigText.PullUnderWay;
        return Sequence.State is { } sequence && !Sequencer.TakesCalibration(sequence.Step) ? RigText.CalibrateAtRest : null;
    }

    /// <summary>Another calibration: limits of hand motion were made with the one before, and its noise is what stillness and spikes are
    /// judged by.</summary>
    private void CalibrationChanged(double? noiseCounts)
    {
        _zero.ForgetLimitsOfHand();
        _signal.NoiseCounts = noiseCounts ?? 0;
        Sequence.OnConditionsChanged();
        _context.PublishSoon();
    }

    private void TellCaughtUp()
    {
        foreach (TaskCompletionSource waiter in _waitToCatchUp) waiter.TrySetResult();
        _waitToCatchUp.Clear();
    }

    private void TakeFrame(FrameBuffer frame)
    {
        if (frame.From is not { } from || from != Link.Pump) return;
        if (frame.Length == 0) LinkLost(from);
        else Link.Take(frame);
    }

    private void LinkLost(FramePump pump)
    {
        IDeviceSession? session = Link.NoteLost(pump);
        Sequence.ForgetMotion();
        session?.End(RigText.SessionLost);
        Hand.Forget();
        HandZero.Forget();
        Sequence.OnConditionsChanged();
        _context.PublishSoon();
    }

    private void Tick()
    {
        _lastTick = _context.Time.GetTimestamp();
        Link.Tick();
        Sequence.CheckTimers();
        Hand.Tick();
        HandZero.Tick();
        Calibration.Tick();
        if (_context.IsSnapshotWanted || _context.Time.GetElapsedTime(_lastSnapshot) >= SnapshotInterval) PublishSnapshot();
    }

    private void StopAfterFailure(Exception e)
    {
        try
        {
            Link.Session?.Stop(atOnce: true, _ => { });
            Sequence.Raise(new StopAsked());
        }
        catch (Exception second)
        {
            _context.Log.LogError(second, "Stopping after a failure failed as well (first: {First}).", e.Message);
        }
    }
}
