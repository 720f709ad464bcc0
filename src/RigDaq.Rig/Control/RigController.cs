using RigDaq.Core.Calibration;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Rig.Control;

/// <summary>
/// A live rig: opens the link and opens it again, greets the device, runs the control loop, drives the sequence, and shows what
/// is going on. Nothing is opened before <see cref="Start"/>.
/// </summary>
/// <remarks>
/// Safe for concurrent use. All decisions are made on one thread, the control loop; it alone sends the keep-alive, so that a live
/// link with a dead loop stops the device. Commands are handed to it and answered with words; none throws for a refused motion.
/// </remarks>
public sealed class RigController : IAsyncDisposable
{
    private readonly RigServices _services;
    private readonly RigControllerOptions _options;
    private readonly RigSnapshot _snapshot = RigSnapshot.Nothing;

    /// <summary>Creates it; nothing is opened yet.</summary>
    public RigController(RigServices services, RigControllerOptions options)
    {
        _services = services;
        _options = options;
    }

    /// <summary>A jog that is not renewed for so long, in wall time, stops.</summary>
    public static TimeSpan JogRenewal { get; } = TimeSpan.FromMilliseconds(250);

    /// <summary>What can be seen now. Taking it costs nothing.</summary>
    public RigSnapshot Snapshot => _snapshot;

    /// <summary>
    /// A new snapshot stands. Raised on the control loop, at most some tens of times a second plus once a state change: handlers
    /// must be quick and must not wait.
    /// </summary>
    public event Action<RigSnapshot>? SnapshotChanged;

    /// <summary>Opens the link and starts the control loop. Once.</summary>
    public void Start() => throw new NotImplementedException();

    /// <summary>
    /// A queue of live blocks: counts always, newtons and position where they are known. A slow consumer loses its oldest, counted.
    /// </summary>
    /// <param name="blocksMax">The length of the queue, 1 to <see cref="LiveSubscription.BlocksMax"/>.</param>
    public LiveSubscription SubscribeLive(int blocksMax = 64) => throw new NotImplementedException();

    /// <summary>
    /// Starts a sequence. Refused with all reasons while another one is not finished, the plan is not in order, or an interlock
    /// stands against motion.
    /// </summary>
    public Task<CommandResult> StartSequenceAsync(SequencePlan plan) => throw new NotImplementedException();

    /// <summary>
    /// Stops the crosshead. Always obeyed, in any state, without any precondition; a running sequence is held and a running pull
    /// ends as stopped. Completes when the stop is on the line, or at once where there is no link.
    /// </summary>
    public Task<CommandResult> StopAsync() => throw new NotImplementedException();

    /// <summary>Lets a held sequence go on. Refused with the reasons where an interlock stands against it.</summary>
    public Task<CommandResult> ResumeAsync() => throw new NotImplementedException();

    /// <summary>Leaves the current specimen out and goes on to the next; while held or waiting for a specimen.</summary>
    public Task<CommandResult> SkipAsync() => throw new NotImplementedException();

    /// <summary>Pulls the specimen that a held sequence stands at again, though a run of it is stored already.</summary>
    public Task<CommandResult> RetryAsync() => throw new NotImplementedException();

    /// <summary>Ends the sequence; a running pull ends as stopped. Specimens not pulled stay unpulled.</summary>
    public Task<CommandResult> FinishAsync() => throw new NotImplementedException();

    /// <summary>
    /// A person says: the specimen is in the grips and hands are out. Needed for each pull on devices without a guard input; the
    /// announced delay runs after it.
    /// </summary>
    public Task<CommandResult> ConfirmPullAsync() => throw new NotImplementedException();

    /// <summary>
    /// Takes the zero now: the force reads 0 from here. In a sequence while it waits for a specimen (the far grip open), else at any
    /// time; refused where the force does not come to rest.
    /// </summary>
    public Task<CommandResult> TakeZeroAsync() => throw new NotImplementedException();

    /// <summary>A person has read the cautions, for one sequence (its id) or for hand motion (<see cref="Interlocks.Cautions.HandMotionScope"/>).</summary>
    /// <param name="scope">What they were acknowledged for.</param>
    public CommandResult AcknowledgeCautions(string scope) => throw new NotImplementedException();

    /// <summary>
    /// Moves while it is held: positive is apart. Must be called again within <see cref="JogRenewal"/> or the crosshead stops;
    /// 0 stops at once. Refused while a sequence is not finished or held.
    /// </summary>
    public Task<CommandResult> JogAsync(double speedMillimetresPerSecond) => throw new NotImplementedException();

    /// <summary>Finds the home position. Completes when it has begun; the snapshot tells when it is done.</summary>
    public Task<CommandResult> HomeAsync() => throw new NotImplementedException();

    /// <summary>Moves to a distance between the grips. Completes when it has begun; the snapshot tells when it is done.</summary>
    public Task<CommandResult> MoveToGripSeparationAsync(double millimetres) => throw new NotImplementedException();

    /// <summary>Clears the latched faults whose cause is gone; the others stay and are named.</summary>
    public Task<CommandResult> ClearFaultsAsync() => throw new NotImplementedException();

    /// <summary>Puts a calibration in force (null: none). Refused during a pull, and where it is for another device.</summary>
    /// <param name="calibration">The record.</param>
    /// <param name="noiseCounts">The standard deviation of the counts seen at calibration; null where it is not known.</param>
    public Task<CommandResult> SetCalibration(CalibrationRecord? calibration, double? noiseCounts = null) => throw new NotImplementedException();

    /// <summary>Tells what the check weight's chart says: whether it asks for a new calibration before a sequence may start.</summary>
    public void SetCheckWeightOutside(bool outside) => throw new NotImplementedException();

    /// <summary>
    /// A person accepts that hand motion goes without a calibration that covers its force limit; until the device or this
    /// controller ends.
    /// </summary>
    public void AcceptHandMotionBeyondCalibration() => throw new NotImplementedException();

    /// <summary>Stops the crosshead, ends a running pull as interrupted and waits, bounded, until it is recorded; then closes the link.</summary>
    public ValueTask DisposeAsync()
    {
        _ = (_services, _options);
        SnapshotChanged?.Invoke(Snapshot);
        return ValueTask.CompletedTask;
    }
}
