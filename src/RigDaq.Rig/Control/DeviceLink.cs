using Microsoft.Extensions.Logging;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Links;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Control;

/// <summary>The link to the device: what is open, the session on it, its keep-alive, and whether it has fallen silent.</summary>
internal sealed class DeviceLink(LoopContext loop, ISessionListener listener)
{
    /// <summary>How often the keep-alive is sent; the device waits 500 ms for it.</summary>
    public static readonly TimeSpan KeepAliveInterval = TimeSpan.FromMilliseconds(100);

    /// <summary>How long the link may be silent while nothing moves (PROTOCOL.md, 17). Nothing is at stake then, and a busy machine is no
    /// lost link.</summary>
    public static readonly TimeSpan StillNoFrameMax = TimeSpan.FromSeconds(3);

    private Sentence _notUnderstood = Sentence.None;
    private long? _lastKeepAlive;
    private int _silentTicks;
    private volatile bool _poolAnswered = true;

    /// <summary>What reads the open link; null while none is open.</summary>
    public FramePump? Pump { get; private set; }

    /// <summary>The conversation over it; null while none is open.</summary>
    public IDeviceSession? Session { get; private set; }

    /// <summary>The longest time between two keep-alives of this link; null before the second.</summary>
    public TimeSpan? KeepAliveGapMax { get; private set; }

    public LinkStage Stage { get; private set; }

    /// <summary>In words: what it is connected to, or why it is not and what to do.</summary>
    public Sentence Message { get; private set; } = RigText.NotStarted;

    /// <summary>How often a good link was lost.</summary>
    public long Lost { get; private set; }

    /// <summary>Whether the device's state is known, and of its present start.</summary>
    public bool IsStateKnown => Session?.StateKnown == true;

    /// <summary>The device's state; all zero where it is not known.</summary>
    public DeviceState State => Session is { StateKnown: true } session ? session.State : default;

    /// <summary>Has something done by the pool of threads. Whoever drives the clock does it at once: there no pool is ever busy.</summary>
    public Action<Action> OnThePool { get; set; } = static action
        => ThreadPool.UnsafeQueueUserWorkItem(static what => what(), action, preferLocal: false);

    /// <summary>Told when a device has proved to be one; the link's back-off begins anew.</summary>
    public Action ProvedGood { get; set; } = () => { };

    /// <summary>A link is open: its device is asked who it is.</summary>
    public void Open(FramePump pump)
    {
        Pump = pump;
        _silentTicks = 0;
        _lastKeepAlive = null;
        KeepAliveGapMax = null;
        Stage = LinkStage.Greeting;
        Message = RigText.IsOpen(pump.Name, _notUnderstood);
        Session = pump.Plain is { } plain
            ? new PlainDeviceSession(pump.Name, plain, loop.Time, listener, plain.Query is { } query
                ? new InstrumentAsker(pump.Link, query, loop.Time, loop.Post) : null)
            : new DeviceSession(pump.Name, Write, loop.Time, listener);
        Session.Open();
    }

    /// <summary>The device has said who it is.</summary>
    public void Greet(HelloMessage hello)
    {
        Stage = LinkStage.Up;
        Message = RigText.DeviceAt(hello.Name, Pump?.Name);
        ProvedGood();
    }

    /// <summary>A link could not be opened.</summary>
    public void NoteFailed(Sentence message)
    {
        if (!Message.Equals(message)) loop.Log.LogWarning("{Message}", message);
        Stage = LinkStage.Opening;
        Message = message;
    }

    /// <summary>The open link has ended.</summary>
    /// <returns>The session that was on it, which is still to be ended.</returns>
    public IDeviceSession? NoteLost(FramePump pump)
    {
        // The link knows why; it has ended, or its pump would not have.
        LinkEnd? end = pump.Link.Closed.IsCompleted ? pump.Link.Closed.Result : null;
        Sentence why = end?.Message ?? RigText.WentAway(pump.Name);
        loop.Log.Log(end?.Kind == LinkEndKind.ClosedHere ? LogLevel.Information : LogLevel.Warning, "{Message}", why);
        if (Stage == LinkStage.Up) Lost++;
        _notUnderstood = end?.Kind == LinkEndKind.NotUnderstood ? why : Sentence.None;
        Stage = LinkStage.Opening;
        Message = why;
        Pump = null;
        IDeviceSession? session = Session;
        Session = null;
        return session;
    }

    /// <summary>The program ends: whoever waits for an answer of the device is told.</summary>
    public void End()
    {
        Session?.End(RigText.SessionEndedWithProgram);
        Session = null;
    }

    /// <summary>Hands a frame of the open link to the session.</summary>
    public void Take(FrameBuffer frame)
    {
        _silentTicks = 0;
        Session?.Handle(frame.Payload.AsSpan(0, frame.Length), frame.ArrivedAt);
    }

    /// <summary>Sends what is due, and ends a link that has fallen silent.</summary>
    public void Tick()
    {
        if (Session is not { } session || Pump is not { } pump) return;
        if (session.Hello is not null && (_lastKeepAlive is not { } last || loop.Time.GetElapsedTime(last) >= KeepAliveInterval))
            KeepAlive();
        session.Tick(pump.BytesReceived, pump.FramesGood);
        WatchSilence(session, pump);
    }

    /// <summary>Sends a keep-alive now.</summary>
    public void KeepAlive()
    {
        if (_lastKeepAlive is { } last)
        {
            TimeSpan gap = loop.Time.GetElapsedTime(last);
            if (KeepAliveGapMax is not { } most || gap > most) KeepAliveGapMax = gap;
        }

        _lastKeepAlive = loop.Time.GetTimestamp();
        Session?.KeepAlive();
    }

    private void WatchSilence(IDeviceSession session, FramePump pump)
    {
        if (session.Hello is null || session.MayBeSilent || !_poolAnswered) return;
        // A tick counts only when the thread pool, which carries the frames, has had its turn since the last one: a busy machine
        // is not a silent line.
        _poolAnswered = false;
        OnThePool(() => _poolAnswered = true);
        TimeSpan silenceMax = session.StateKnown && session.State.Motion == MotionState.Still ? StillNoFrameMax : LinkTimes.NoFrameMax;
        if (++_silentTicks * ControlLoop.TickInterval <= silenceMax) return;
        pump.Link.Close(new LinkEnd(LinkEndKind.NoData, RigText.BeenSilent(pump.Name, silenceMax.TotalSeconds)));
    }

    private void Write(ReadOnlyMemory<byte> bytes)
    {
        if (Pump is not { } pump) return;
        // Handed to the line, never waited for: a line that does not take it within a second ends, and its end marker is
        // handled there.
        ValueTask write = pump.Link.WriteAsync(bytes);
        if (write.IsCompletedSuccessfully) return;
        _ = write.AsTask().ContinueWith(static failed => _ = failed.Exception, CancellationToken.None,
            TaskContinuationOptions.OnlyOnFaulted, TaskScheduler.Default);
    }
}
