using Microsoft.Extensions.Logging;
using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Safety;
using RigDaq.Core.Trace;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;
using RigDaq.Tests.Shared;
using RigDaq.Text;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.Daemon.Tests.Night;

/// <summary>What kind of rig a night is spent at.</summary>
internal enum NightKind
{
    Feeder,
    Guard,
    NeitherGuardNorFeeder,
}

/// <summary>What the rig of a night needs from the rest of the house.</summary>
internal sealed record NightServices(
    ICaptureJournal Captures, IPullRecorder Recorder, Func<string, CalibrationRecord?> Calibrations, ISafetyDiary Safety, ILogger Log,
        Action OnDetector);

/// <summary>
/// A virtual device, the cable to it and the real control loop with its session, its signal and its sequencer, on the night's
/// clock and on the night's own thread. The device lives on
/// when the program is killed.
/// </summary>
internal sealed partial class NightRig : IDisposable
{
    /// <summary>The rig's clock runs so much faster than the safety timers, so that a night has some pulls in it.</summary>
    private const double TimeScale = 8;

    private const int LiveQueueMax = 4;
    private const int PortionsAStep = 2;
    private const int HistoryMax = 60;
    private static readonly TimeSpan Portion = TimeSpan.FromMilliseconds(12.5);
    private static readonly TimeSpan WorkMax = TimeSpan.FromSeconds(60);

    [ThreadStatic]
    private static bool _isControlThread;

    private readonly Random _random;
    private readonly NightClock _clock;
    private readonly Sabotage _sabotage;
    private readonly VirtualRig _rig;
    private readonly NightKind _kind;
    private ControlLoop? _loop;
    private ControlInbox _inbox = new();
    private FramePool _pool = new();
    private LiveFanOut? _fanOut;
    private LiveSubscription? _live;
    private NightLink? _link;
    private TimeSpan _reopenAt;
    private RigSnapshot _seen = RigSnapshot.Nothing;
    private int _hungPortions;
    private long _liveTaken;
    private long _liveLast;
    private ushort _forgedLife;
    private readonly Queue<string> _history = new();

    public NightRig(NightKind kind, int seed, NightClock clock, Sabotage sabotage)
    {
        _random = new Random(seed);
        (_kind, _clock, _sabotage) = (kind, clock, sabotage);
        Slow = new SlowDisk(clock);
        _rig = new VirtualRig(
            new VirtualRigOptions
            {
                Stepped = true,
                Seed = (ulong)seed + 1,
                TimeScale = TimeScale,
                PosesAsReal = true,
                DeviceId = Convert.ToUInt64(WorkshopCalibration.DeviceId, 16),
                HasFeeder = kind == NightKind.Feeder,
                HasGuard = kind != NightKind.NeitherGuardNorFeeder,
                ClosedLoop = seed % 2 == 0,
                StartMillimetres = 3,
                SampleRateHertz = 80,
                NewtonsPerCount = WorkshopCalibration.NewtonsPerCount,
                ZeroCounts = WorkshopCalibration.ZeroCounts,
                NoiseCounts = 60,
                FeedSeconds = 1,
            },
            clock);
    }

    /// <summary>Whether the thread that asks is just being the control thread.</summary>
    public static bool IsControlThread => _isControlThread;

    /// <summary>What happened last, for a failure to be understood.</summary>
    public IEnumerable<string> History => _history;

    /// <summary>The disk, as far as it is slow.</summary>
    public SlowDisk Slow { get; }

    /// <summary>What is seen of the rig.</summary>
    public RigSnapshot Seen => _seen;

    /// <summary>How many specimens truly parted.</summary>
    public int Breaks => _rig.PullsMade;

    /// <summary>The program starts.</summary>
    public void Start(NightServices services)
    {
        _inbox = new ControlInbox();
        _pool = new FramePool();
        _fanOut = new LiveFanOut(TimeSpan.FromMilliseconds(30), _clock);
        _live = _fanOut.Subscribe(_sabotage == Sabotage.HasNoBound ? 16 * LiveQueueMax : LiveQueueMax);
        (_liveTaken, _liveLast, _hungPortions) = (0, 0, 0);
        _loop = new ControlLoop(
            new RigServices
            {
                Link = new NoOpener(),
                CreateDetector = (settings, noise) =>
                {
                    services.OnDetector();
                    return new BreakDetector(settings, noise);
                },
                Captures = services.Captures,
                Recorder = services.Recorder,
                FindCalibration = services.Calibrations,
                Safety = services.Safety,
                Time = _clock,
                Log = services.Log,
            },
            new RigControllerOptions { HandSpeedMaxMillimetresPerSecond = HandSpeed },
            _inbox,
            _pool,
            _fanOut,
            Look);
        _loop.Link.OnThePool = static action => action();
        _seen = RigSnapshot.Nothing;
        _reopenAt = _clock.Passed;
        BeginWatching();
    }

    /// <summary>Twenty-five milliseconds pass.</summary>
    public void Step()
    {
        for (int i = 0; i < PortionsAStep; i++)
        {
            _clock.Pass(Portion);
            _rig.Advance(Portion * TimeScale);
            if (_sabotage == Sabotage.KeepsTheDeviceAlive) Forge();
            if (_hungPortions > 0)
            {
                _hungPortions--;
            }
            else if (_loop is not null)
            {
                Reopen();
                _link?.Carry();
                Work();
            }

            HoldThePhysics();
        }

        TakeLive();
        if (_loop is not null && _hungPortions == 0) ActAsPerson();
        HoldTheWords();
    }

    /// <summary>The process is gone: nothing is said to the device any more, and nothing that comes back is heard.</summary>
    public void Kill()
    {
        if (_sabotage == Sabotage.KeepsTheDeviceAlive) _orphan = _link;
        else _link?.Cut();
        _link = null;
        // What other threads have begun ends somewhere; the disk takes none of it.
        Slow.Takes = TimeSpan.Zero;
        Slow.Release(everyone: true);
        Work();
        _loop = null;
        ForgetThePerson();
    }

    /// <summary>The program ends in order: it stops, stores, and lets go.</summary>
    public void End(int stepsMax)
    {
        bool ended = false;
        _hungPortions = 0;
        _inbox.Post(() => _loop!.EndProgram(() => ended = true));
        for (int i = 0; i < stepsMax && !ended; i++) Step();
        Assert.True(ended, "the program does not end");
        Kill();
    }

    /// <summary>The mains go and come back, the device's with them.</summary>
    public void Restart() => _rig.Restart();

    /// <summary>The program gets no processor for a while.</summary>
    public void Hang(TimeSpan time) => _hungPortions = (int)(time / Portion);

    public void Dispose() => _rig.DisposeAsync().AsTask().GetAwaiter().GetResult();

    private void Note(string what)
    {
        if (_history.Count >= HistoryMax) _history.Dequeue();
        _history.Enqueue($"{_clock.Passed.TotalSeconds:0.000} {what}");
    }

    private void Look(RigSnapshot snapshot)
    {
        if (snapshot.Sequence is { } sequence
            && (sequence.Stage != _seen.Sequence?.Stage
            || sequence.Reason != _seen.Sequence.Reason)) Note($"{sequence.Stage}: {sequence.Reason}");
        _seen = _sabotage == Sabotage.SaysNothing ? Silenced(snapshot) : snapshot;
    }

    private static RigSnapshot Silenced(RigSnapshot snapshot) =>
        snapshot.Sequence is { } sequence ? snapshot with { Sequence = sequence with { Reason = Sentence.None } } : snapshot;

    private void Reopen()
    {
        if (_link is { Closed.IsCompleted: false } || _clock.Passed < _reopenAt) return;
        _reopenAt = _clock.Passed + LinkTimes.ReopenFirst;
        try
        {
            _link = new NightLink(_rig.ConnectInProcess(), HoldWhatIsSent);
        }
        catch (IOException e)
        {
            Sentence why = Sentence.Verbatim(e.Message);
            _link = null;
            _inbox.Post(() => _loop!.LinkFailed(why));
            return;
        }

        var pump = new FramePump(_link, _inbox, _pool, _clock);
        _inbox.Post(() => _loop!.LinkOpened(pump));
        _ = pump.RunAsync();
    }

    /// <summary>
    /// The loop has its turns until nothing is left to do and nothing is under way elsewhere: so nothing is left to chance.
    /// </summary>
    private void Work()
    {
        if (_loop is null) return;
        Slow.Release();
        Turn();
        long began = Environment.TickCount64;
        while (true)
        {
            // Looked at first: what comes back is posted before it counts as done.
            bool atRest = _loop.IsAtRestBut(Slow.Waiting);
            if (!_inbox.IsEmpty)
            {
                Turn();
                continue;
            }

            if (atRest) return;
            Thread.Yield();
            if (Environment.TickCount64
                - began > WorkMax.TotalMilliseconds) throw new InvalidOperationException("Something that was given to another thread does not come back.");
        }
    }

    private void Turn()
    {
        _isControlThread = true;
        try
        {
            _loop!.Turn(TimeSpan.Zero);
        }
        finally
        {
            _isControlThread = false;
        }

        if (_brokenInside is { } broken) throw broken;
    }

    private NightLink? _orphan;
    private bool _isForging;

    private void Forge()
    {
        if (_orphan is not { } orphan) return;
        Span<byte> payload = stackalloc byte[Protocol.Frames.FrameLimits.PayloadBytesMax];
        byte[] frame = new byte[Protocol.Frames.FrameLimits.WireBytesMax];
        int length = new KeepAliveMessage(_rig.BootNumber, (ushort)(30_000 + ++_forgedLife)).Write(payload);
        length = Protocol.Frames.FrameEncoder.Encode(payload[..length], frame);
        _isForging = true;
        _ = orphan.WriteAsync(frame.AsMemory(0, length)).AsTask().ContinueWith(static failed => _ = failed.Exception,
            TaskScheduler.Default);
        _isForging = false;
    }

    private sealed class NoOpener : IRigLinkOpener
    {
        public string Name => "the night's cable";

        public ValueTask<IRigLink> OpenAsync(CancellationToken cancellation) => throw new NotSupportedException("The night opens it.");
    }
}
