using System.Collections.Concurrent;
using RigDaq.Core.Calibration;
using RigDaq.Rig.Links;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <summary>A live rig: opens the link and opens it again, greets the device, runs the control loop, drives the sequence, and shows what is
/// going on. Nothing is opened before <see cref="Start"/>.</summary>
/// <remarks>Safe for concurrent use. All decisions are made on one thread, the control loop; it alone sends the keep-alive, so that a live
/// link with a dead loop stops the device. Commands are handed to it and answered with words; none throws for a refused motion.</remarks>
public sealed class RigController : ILiveRig, IAsyncDisposable
{
    /// <summary>How long ending waits for a run to be stored, in wall time. Its capture has it in any case.</summary>
    public static readonly TimeSpan StoreAtEndMax = TimeSpan.FromSeconds(20);

    private static readonly TimeSpan ThreadEndMax = TimeSpan.FromSeconds(5);

    private readonly LoopLog _log;
    private readonly SnapshotFeed _snapshots = new();
    private readonly ControlInbox _inbox = new();
    private readonly FramePool _pool = new();
    private readonly LiveFanOut _live;
    private readonly ControlLoop _loop;
    private readonly LinkKeeper _keeper;
    private readonly CancellationTokenSource _linkWanted = new();
    private readonly Thread _thread;
    private readonly TimeSpan _storeAtEndMax;
    private readonly ConcurrentDictionary<TaskCompletionSource<CommandResult>, byte> _waiting = new();
    private Task _keeping = Task.CompletedTask;
    private RigSnapshot _snapshot = RigSnapshot.Nothing;
    private int _started;
    private int _disposed;

    /// <summary>Creates it; nothing is opened yet.</summary>
    public RigController(RigServices services, RigControllerOptions options)
    {
        _storeAtEndMax = options.StoreAtEndMax;
        _log = new LoopLog(services.Log, services.Time);
        services = services with { Log = _log };
        _live = new LiveFanOut(options.LiveBlockInterval, services.Time);
        _loop = new ControlLoop(services, options, _inbox, _pool, _live, Publish);
        _keeper = new LinkKeeper(services.Link, _inbox, _pool, services.Time, _loop.LinkOpened, _loop.LinkFailed);
        _loop.Link.ProvedGood = _keeper.NoteGood;
        // A thread of its own: whatever keeps the thread pool busy must not keep the keep-alive away. The priority counts on Windows; on
        // Linux see Scheduling.
        _thread = new Thread(_loop.Run) { IsBackground = true, Name = "control loop", Priority = ThreadPriority.AboveNormal };
    }

    /// <summary>A jog that is not renewed for so long, in wall time, stops.</summary>
    public static TimeSpan JogRenewal { get; } = TimeSpan.FromMilliseconds(250);

    /// <summary>What can be seen now. Taking it costs nothing.</summary>
    public RigSnapshot Snapshot => Volatile.Read(ref _snapshot);

    /// <summary>A queue of the snapshots that come, at most some tens a second. A slow onlooker loses the oldest and holds nobody
    /// up.</summary>
    /// <param name="snapshotsMax">The length of the queue, 1 to <see cref="SnapshotSubscription.SnapshotsMax"/>; 1 keeps the newest
    /// only.</param>
    public SnapshotSubscription SubscribeSnapshots(int snapshotsMax = 1) => _snapshots.Subscribe(snapshotsMax);

    /// <summary>Opens the link and starts the control loop. Once.</summary>
    /// <exception cref="InvalidOperationException">It was started already.</exception>
    public void Start()
    {
        ObjectDisposedException.ThrowIf(Volatile.Read(ref _disposed) != 0, this);
        if (Interlocked.Exchange(ref _started, 1) != 0) throw new InvalidOperationException("The rig was started already.");
        _thread.Start();
        _keeping = Task.Run(() => _keeper.RunAsync(_linkWanted.Token));
    }

    /// <summary>A queue of live blocks: counts always, newtons and position where they are known. A slow consumer loses its oldest,
    /// counted.</summary>
    /// <param name="blocksMax">The length of the queue, 1 to <see cref="LiveSubscription.BlocksMax"/>.</param>
    public LiveSubscription SubscribeLive(int blocksMax = 64) => _live.Subscribe(blocksMax);

    /// <summary>Starts a sequence. Refused with all reasons while another one is not finished, the plan is not in order, or an interlock
    /// stands against motion.</summary>
    public Task<CommandResult> StartSequenceAsync(SequencePlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return AskAsync(() => _loop.StartSequence(plan));
    }

    /// <summary>
    /// Stops the crosshead. Always obeyed, in any state, without any precondition; a running sequence is held and a running pull
    /// ends as stopped. Completes when the stop is on the line, or at once where there is no link. On a device without a motor there is
    /// nothing to stop but the sequence, and the answer says so.
    /// </summary>
    public Task<CommandResult> StopAsync() => AskAsync(_loop.StopEverything);

    /// <summary>Lets a held sequence go on. Refused with the reasons where an interlock stands against it.</summary>
    public Task<CommandResult> ResumeAsync() => AskAsync(() => _loop.Sequence.Request(new ResumeAsked(), RigText.SequenceGoesOn));

    /// <summary>Leaves the current specimen out and goes on to the next; while held or waiting for a specimen.</summary>
    public Task<CommandResult> SkipAsync() => AskAsync(() => _loop.Sequence.Request(new SkipAsked(), RigText.SpecimenLeftOut));

    /// <summary>Pulls the specimen that a held sequence stands at again, though a run of it is stored already.</summary>
    public Task<CommandResult> RetryAsync() => AskAsync(() => _loop.Sequence.Request(new RetryAsked(), RigText.SpecimenPulledAgain));

    /// <summary>Ends the sequence; a running pull ends as stopped. Specimens not pulled stay unpulled.</summary>
    public Task<CommandResult> FinishAsync() => AskAsync(() => _loop.Sequence.Request(new FinishAsked(), RigText.SequenceIsEnded));

    /// <summary>A person says: the specimen is in the grips and hands are out. Needed for each pull on devices without a guard input; the
    /// announced delay runs after it.</summary>
    public Task<CommandResult> ConfirmPullAsync() => AskAsync(() => _loop.Sequence.Request(new PullConfirmed(), RigText.PullIsAnnounced));

    /// <summary>A person says: the far grip is open or nothing is in the grips, and hands are out. Needed where a zero is to be taken and a
    /// piece may join the grips.</summary>
    public Task<CommandResult> ConfirmOpenGripAsync() =>
        AskAsync(() => _loop.Sequence.Request(new OpenGripConfirmed(), RigText.ZeroIsBeingTaken));

    /// <summary>
    /// Takes the zero now: the force reads 0 from here. In a sequence while it waits for a specimen, and where a piece may join the grips
    /// once a person has confirmed that the far one is open; else at any time. Refused while a sequence is held (it keeps its zero), and
    /// where the force does not come to rest.
    /// </summary>
    public Task<CommandResult> TakeZeroAsync() => AskLaterAsync(_loop.HandZero.Take);

    /// <summary>A person has read the cautions, for one sequence (its id) or for hand motion
    /// (<see cref="Interlocks.Cautions.HandMotionScope"/>).</summary>
    /// <param name="scope">What they were acknowledged for.</param>
    public CommandResult AcknowledgeCautions(string scope)
    {
        if (string.IsNullOrWhiteSpace(scope)) return CommandResult.Refused(RigText.SayWhichSequence);
        return _inbox.Post(() => _loop.Conditions.Acknowledge(scope)) ? CommandResult.Ok(RigText.CautionsAcknowledged) : Ended;
    }

    /// <summary>Moves while it is held: positive is apart. Must be called again within <see cref="JogRenewal"/> or the crosshead stops; 0
    /// stops at once. Refused while a sequence is not finished or held.</summary>
    public Task<CommandResult> JogAsync(double speedMillimetresPerSecond) =>
        AskLaterAsync(done => _loop.Hand.JogBy(speedMillimetresPerSecond, done));

    /// <summary>Finds the home position. Completes when it has begun; the snapshot tells when it is done.</summary>
    public Task<CommandResult> HomeAsync() => AskLaterAsync(_loop.Hand.Home);

    /// <summary>Moves to a distance between the grips. Completes when it has begun; the snapshot tells when it is done.</summary>
    public Task<CommandResult> MoveToGripSeparationAsync(double millimetres) =>
        AskLaterAsync(done => _loop.Hand.MoveToSeparation(millimetres, done));

    /// <summary>
    /// Moves to a position and ends there by itself, whatever becomes of this program; while such a motion is under way it gets the new
    /// target instead. On a device that can home only once it is homed. Completes when it has begun;
    /// <see cref="CommandResult.IsPassing"/> where the device is just stopping.
    /// </summary>
    /// <param name="positionMillimetres">From home; where the device cannot home from where it was started.</param>
    /// <param name="speedMillimetresPerSecond">Above 0, up to that of hand motion.</param>
    public Task<CommandResult> MoveToAsync(double positionMillimetres, double speedMillimetresPerSecond) =>
        AskLaterAsync(done => _loop.Hand.MoveTo(positionMillimetres, speedMillimetresPerSecond, done));

    /// <summary>What holds for hand motion from now on, instead of what the options say. A motion under way is not changed.</summary>
    /// <param name="settings">Force limits, acceleration and time limit are used.</param>
    /// <param name="speedMaxMillimetresPerSecond">The greatest speed.</param>
    public Task<CommandResult> SetHandMotionAsync(Core.Pulls.PullSettings settings, double speedMaxMillimetresPerSecond) =>
        AskAsync(() => _loop.Hand.Set(settings, speedMaxMillimetresPerSecond));

    /// <summary>Clears the latched faults whose cause is gone; the others stay and are named.</summary>
    public Task<CommandResult> ClearFaultsAsync() => AskLaterAsync(_loop.Hand.ClearFaults);

    /// <summary>
    /// Puts a calibration in force (null: none), together with what the check weight's chart says under it. Refused during a pull or while
    /// a sequence moves the crosshead, and where it is for another device. In a sequence the device gets limits made with it before
    /// anything else.
    /// </summary>
    /// <param name="calibration">The record.</param>
    /// <param name="noiseCounts">The standard deviation of the counts while nothing moves; null takes the one that the record
    /// holds.</param>
    public Task<CommandResult> SetCalibration(CalibrationRecord? calibration, double? noiseCounts = null) =>
        AskLaterAsync(done => _loop.Calibration.Set(calibration, noiseCounts, done));

    /// <summary>A person says: the emergency stop was pressed, the motor had no power, it is released again. Refused where the device can
    /// see the stop and has not seen it pressed today. Completes when the test is kept (<see cref="RigServices.Safety"/>).</summary>
    public Task<CommandResult> SayEmergencyStopTestedAsync() => AskLaterAsync(_loop.EmergencyStop.Confirm);

    /// <summary>A person accepts that hand motion goes without a calibration that covers its force limit; until the device or this
    /// controller ends.</summary>
    public void AcceptHandMotionBeyondCalibration() => _inbox.Post(_loop.Conditions.AcceptHandMotionBeyondCalibration);

    /// <summary>Does something on the control loop; for tests of what becomes of a loop that hangs or fails.</summary>
    internal void OnLoop(Action action) => _inbox.Post(action);

    /// <summary>Completes when all frames that have arrived are worked off, the timers that are due have had their turn, and what was given
    /// to the disk has come back. For who drives the rig's clock: between two steps of it nothing is left to chance.</summary>
    internal Task CaughtUpAsync()
    {
        var reached = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        return _inbox.PostMark(reached) ? reached.Task : Task.CompletedTask;
    }

    /// <summary>Stops the crosshead, ends a running pull as interrupted and waits, bounded, until it is recorded; then closes the
    /// link.</summary>
    public async ValueTask DisposeAsync()
    {
        if (Interlocked.Exchange(ref _disposed, 1) != 0) return;
        if (Volatile.Read(ref _started) != 0)
        {
            var stored = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
            _inbox.Post(() => _loop.EndProgram(stored.SetResult));
            await Task.WhenAny(stored.Task, Task.Delay(_storeAtEndMax)).ConfigureAwait(false);
            await _linkWanted.CancelAsync().ConfigureAwait(false);
            await Task.WhenAny(_keeping, Task.Delay(LinkTimes.DisposeMax + LinkTimes.WriteMax)).ConfigureAwait(false);
            _inbox.End();
            _thread.Join(ThreadEndMax);
        }

        _inbox.End();
        // Whoever asked and was not answered, because the loop hung or a step of it failed, is told now.
        foreach (TaskCompletionSource<CommandResult> waiter in _waiting.Keys) waiter.TrySetResult(Ended);
        _live.End();
        _snapshots.End();
        _linkWanted.Dispose();
        await _log.DisposeAsync().ConfigureAwait(false);
    }

    private static CommandResult Ended => CommandResult.Refused(RigText.ProgramIsEnding);

    private void Publish(RigSnapshot snapshot)
    {
        Volatile.Write(ref _snapshot, snapshot);
        _snapshots.Offer(snapshot);
    }

    private Task<CommandResult> AskAsync(Func<CommandResult> ask) => AskLaterAsync(done => done(ask()));

    private async Task<CommandResult> AskLaterAsync(Action<Action<CommandResult>> ask)
    {
        if (Volatile.Read(ref _started) == 0) return CommandResult.Refused(RigText.RigNotStarted);
        var answer = new TaskCompletionSource<CommandResult>(TaskCreationOptions.RunContinuationsAsynchronously);
        _waiting.TryAdd(answer, 0);
        try
        {
            bool posted = _inbox.Post(() =>
            {
                try
                {
                    ask(result =>
                    {
                        _loop.PublishSnapshot();
                        answer.TrySetResult(result);
                    });
                }
                catch (Exception e)
                {
                    answer.TrySetException(e);
                    throw;
                }
            });
            return posted ? await answer.Task.ConfigureAwait(false) : Ended;
        }
        finally
        {
            _waiting.TryRemove(answer, out _);
        }
    }
}
