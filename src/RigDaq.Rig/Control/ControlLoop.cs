using Microsoft.Extensions.Logging;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Links;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <summary>
/// The one thread on which everything about a rig is decided. It takes what has arrived, lets the session, the signal and the
/// sequence work on it, and sends the keep-alive: when it hangs, the keep-alive stays away and the device stops.
/// </summary>
internal sealed partial class ControlLoop
{
    /// <summary>How often the loop looks at its timers at least, in wall time.</summary>
    public static readonly TimeSpan TickInterval = TimeSpan.FromMilliseconds(25);

    /// <summary>How often the keep-alive is sent; the device waits 500 ms for it.</summary>
    public static readonly TimeSpan KeepAliveInterval = TimeSpan.FromMilliseconds(100);

    /// <summary>How often a motion that was refused for want of a keep-alive is sent again.</summary>
    public const int KeepAliveTriesMax = 3;

    /// <summary>
    /// How long the link may be silent while nothing moves (PROTOCOL.md, 17). Nothing is at stake then, and a busy machine is
    /// no lost link.
    /// </summary>
    public static readonly TimeSpan StillNoFrameMax = TimeSpan.FromSeconds(3);

    private readonly RigServices _services;
    private RigControllerOptions _options;
    private readonly TimeProvider _time;
    private readonly ILogger _log;
    private readonly ControlInbox _inbox;
    private readonly FramePool _pool;
    private readonly LiveFanOut _live;
    private readonly SignalWatch _signal = new();
    private readonly Action<RigSnapshot> _publish;
    private FramePump? _pump;
    private DeviceSession? _session;
    private HelloMessage? _hello;
    private string _linkMessage = RigText.NotStarted;
    private LinkStage _linkStage = LinkStage.Closed;
    private string _notUnderstood = "";
    private long _linksLost;
    private long _restarts;
    private long _lastTick;
    private long _lastKeepAlive;
    private int _silentTicks;
    private volatile bool _poolAnswered = true;
    private readonly Action _answerOfThePool;
    private readonly List<TaskCompletionSource> _waitToCatchUp = [];
    private int _elsewhere;

    public ControlLoop(
        RigServices services, RigControllerOptions options, ControlInbox inbox, FramePool pool, LiveFanOut live, Action<RigSnapshot> publish)
    {
        _services = services;
        _options = options;
        _time = services.Time;
        _log = services.Log;
        _inbox = inbox;
        _pool = pool;
        _live = live;
        _publish = publish;
        _answerOfThePool = () => _poolAnswered = true;
        _lastTick = _time.GetTimestamp();
    }

    /// <summary>Told when a device has proved to be one; the link's back-off begins anew.</summary>
    public Action LinkProvedGood { get; set; } = () => { };

    /// <summary>Runs until the inbox has ended and is empty; whoever still waits for something is then told.</summary>
    public void Run()
    {
        Scheduling.TryRaiseThisThread();
        while (Turn(TickInterval))
        {
        }

        TellCaughtUp();
        _session?.End(RigText.SessionEndedWithProgram);
        _session = null;
        ForgetHandMotion();
        TellAfterPull();
        _live.End();
    }

    /// <summary>
    /// Waits for the next thing at most so long and works on it; timers that are due have their turn. For whoever drives the
    /// clock, who is then this loop's thread.
    /// </summary>
    /// <returns>False where nothing more comes.</returns>
    internal bool Turn(TimeSpan waitMax)
    {
        if (!_inbox.Take(waitMax, out Action? action, out FrameBuffer? frame)) return false;
        try
        {
            action?.Invoke();
            if (frame is { CaughtUp: { } waiter }) _waitToCatchUp.Add(waiter);
            else if (frame is not null) TakeFrame(frame);
            if (_time.GetElapsedTime(_lastTick) >= TickInterval) Tick();
        }
        catch (Exception e)
        {
            // The loop must go on: it alone can stop the rig and end the pull. What failed is logged whole.
            _log.LogError(e, "The control loop failed at one step; the rig is stopped and the sequence held.");
            StopAfterFailure(e);
        }

        if (frame is { CaughtUp: null }) _pool.Return(frame);
        if (_elsewhere == 0) TellCaughtUp();
        return true;
    }

    /// <summary>Whether nothing that was given to other threads is still under way. For whoever drives the clock.</summary>
    /// <param name="waiting">How much of it waits for that clock: it counts as at rest.</param>
    internal bool IsAtRestBut(int waiting) => _elsewhere == waiting && _pull?.Capture.HasWritten != false;

    /// <summary>What the sequence is at; null where there is none. For whoever plays the person.</summary>
    internal Sequencing.SequenceStep? Step => _sequence?.Step;

    /// <summary>
    /// Has something done by the pool of threads. Whoever drives the clock does it at once: there no pool is ever busy.
    /// </summary>
    internal Action<Action> OnThePool { get; init; } = static action => ThreadPool.UnsafeQueueUserWorkItem(static what => what(), action, preferLocal: false);

    /// <summary>A link is open.</summary>
    public void LinkOpened(FramePump pump)
    {
        // Where the loop was held up, the end of the link before may still wait behind this.
        if (_pump is { } before) LinkLost(before);
        _pump = pump;
        _silentTicks = 0;
        _linkStage = LinkStage.Greeting;
        _linkMessage = RigText.IsOpen(pump.Link.Name, _notUnderstood);
        _session = new DeviceSession(pump.Link.Name, Write, _time, this);
        _session.Open();
        ShowNow();
    }

    /// <summary>A link could not be opened.</summary>
    public void LinkFailed(string message)
    {
        if (_linkMessage != message) _log.LogWarning("{Message}", message);
        _linkStage = LinkStage.Opening;
        _linkMessage = message;
        NoticeConditions();
        ShowNow();
    }

    /// <summary>Stops the crosshead, whatever is going on.</summary>
    public CommandResult StopEverything()
    {
        _jog = null;
        // A hello that has not come yet may be that of a device with a motor.
        bool sent = _session is not null, isByHand = _session?.Hello is { } hello && !hello.Capabilities.HasFlag(Capabilities.Motion);
        bool isSequence = _sequence is { Stage: not Sequencing.SequenceStage.Finished };
        if (isSequence) Happen(new Sequencing.StopAsked());
        else _session?.Stop(atOnce: true, _ => { });
        return CommandResult.Ok(
            isByHand ? RigText.StopTurning(isSequence) : sent ? RigText.ToldToStop : RigText.NothingToStop);
    }

    /// <summary>Stops and ends the pull; tells when its run is stored and the stop has arrived (or cannot any more).</summary>
    public void EndProgram(Action ended)
    {
        _jog = null;
        Happen(new Sequencing.ProgramEnds());
        // A link that is closed too soon may take an unsent stop with it. The device would stop by itself, but half a second
        // later.
        if (_session is { Hello: not null } session) session.Stop(atOnce: true, _ => WhenPullIsStored(ended));
        else WhenPullIsStored(ended);
    }

    /// <summary>
    /// Something was given to other threads; its result comes back through the inbox before this counts as done.
    /// </summary>
    private void Elsewhere(Task work)
    {
        _elsewhere++;
        _ = work.ContinueWith(_ => _inbox.Post(() => _elsewhere--), TaskScheduler.Default);
    }

    private void TellCaughtUp()
    {
        foreach (TaskCompletionSource waiter in _waitToCatchUp) waiter.TrySetResult();
        _waitToCatchUp.Clear();
    }

    private void TakeFrame(FrameBuffer frame)
    {
        if (frame.From is not { } from || from != _pump || _session is null) return;
        if (frame.Length == 0)
        {
            LinkLost(from);
            return;
        }

        _silentTicks = 0;
        _session.Handle(frame.Payload.AsSpan(0, frame.Length), frame.ArrivedAt);
    }

    private void LinkLost(FramePump pump)
    {
        // The link knows why; it has ended, or its pump would not have.
        string why = pump.Link.Closed.IsCompleted ? pump.Link.Closed.Result.Message : RigText.WentAway(pump.Link.Name);
        bool closedHere = pump.Link.Closed is { IsCompleted: true, Result.Kind: LinkEndKind.ClosedHere };
        _log.Log(closedHere ? LogLevel.Information : LogLevel.Warning, "{Message}", why);
        if (_linkStage == LinkStage.Up) _linksLost++;
        _notUnderstood = pump.Link.Closed is { IsCompleted: true, Result.Kind: LinkEndKind.NotUnderstood } ? why : "";
        _linkStage = LinkStage.Opening;
        _linkMessage = why;
        _pump = null;
        DeviceSession? session = _session;
        _session = null;
        _motion = null;
        session?.End(RigText.SessionLost);
        ForgetHandMotion();
        NoticeConditions();
        ShowNow();
    }

    private void Tick()
    {
        _lastTick = _time.GetTimestamp();
        if (_session is { } session && _pump is { } pump)
        {
            if (session.Hello is not null && _time.GetElapsedTime(_lastKeepAlive) >= KeepAliveInterval) KeepAlive(session);

            session.Tick(pump.BytesReceived, pump.FramesGood);
            WatchSilence(session, pump);
        }

        CheckTimers();
        CheckJog();
        ReadCheckWeightAgain();
        ShowWhenDue();
    }

    private void KeepAlive(DeviceSession session)
    {
        _lastKeepAlive = _time.GetTimestamp();
        session.KeepAlive();
    }

    private void WatchSilence(DeviceSession session, FramePump pump)
    {
        if (session.Hello is null || !_poolAnswered) return;
        // A tick counts only when the thread pool, which carries the frames, has had its turn since the last one: a busy machine
        // is not a silent line.
        _poolAnswered = false;
        OnThePool(_answerOfThePool);
        TimeSpan silenceMax = session.StateKnown && session.State.Motion == MotionState.Still ? StillNoFrameMax : LinkTimes.NoFrameMax;
        if (++_silentTicks * TickInterval <= silenceMax) return;
        pump.Link.Close(new LinkEnd(
            LinkEndKind.NoData, RigText.BeenSilent(pump.Link.Name, silenceMax.TotalSeconds)));
    }

    private void Write(ReadOnlyMemory<byte> bytes)
    {
        if (_pump is not { } pump) return;
        // Handed to the line, never waited for: a line that does not take it within a second ends, and its end marker is
        // handled there.
        ValueTask write = pump.Link.WriteAsync(bytes);
        if (write.IsCompletedSuccessfully) return;
        _ = write.AsTask().ContinueWith(static failed => _ = failed.Exception, CancellationToken.None, TaskContinuationOptions.OnlyOnFaulted, TaskScheduler.Default);
    }

    private void StopAfterFailure(Exception e)
    {
        try
        {
            _session?.Stop(atOnce: true, _ => { });
            Happen(new Sequencing.StopAsked());
        }
        catch (Exception second)
        {
            _log.LogError(second, "Stopping after a failure failed as well (first: {First}).", e.Message);
        }
    }
}
