using RigDaq.Core.Calibration.Guided;
using RigDaq.Rig.Control;

namespace RigDaq.Daemon.Commands;

/// <summary>
/// Joins a guided calibration with a live rig: samples and a person's words go in, prompts come out. One for the terminal and one for a page; safe for
/// concurrent use. <see cref="Said"/> and <see cref="Changed"/> are raised one at a time, in order.
/// </summary>
internal sealed class CalibrationGuideSession(RigController rig, GuideState begin)
{
    private readonly Lock _gate = new();
    private readonly TaskCompletionSource _over = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private GuideState _state = begin;

    /// <summary>A word to the person.</summary>
    public event Action<GuidePrompt>? Said;

    /// <summary>A reading was taken or dropped, or the phase changed: worth keeping.</summary>
    public event Action<GuideState>? Changed;

    /// <summary>Where it stands.</summary>
    public GuideState State => Volatile.Read(ref _state);

    /// <summary>The device's start that the readings belong to; null before the first samples.</summary>
    public uint? BootNumber { get; set; }

    /// <summary>Does what a person wants.</summary>
    public void Do(PersonAction action) => Apply(new GuideEvent.Person(action));

    /// <summary>Feeds it until it is accepted, given up or stopped.</summary>
    public async Task RunAsync(CancellationToken cancellation)
    {
        using LiveSubscription live = rig.SubscribeLive(LiveSubscription.BlocksMax);
        using var over = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        Task feeding = FeedAsync(live, over.Token);
        Task first = await Task.WhenAny(feeding, _over.Task).ConfigureAwait(false);
        await over.CancelAsync().ConfigureAwait(false);
        if (first == _over.Task)
        {
            await feeding.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            return;
        }

        await feeding.ConfigureAwait(false);
        throw new CannotBeDoneException("The rig ended; what was read is kept.");
    }

    private async Task FeedAsync(LiveSubscription live, CancellationToken cancellation)
    {
        await foreach (LiveBlock block in live.Blocks.ReadAllAsync(cancellation).ConfigureAwait(false))
        {
            if (BootNumber is { } boot && boot != block.BootNumber) Apply(new GuideEvent.DeviceRestarted());
            BootNumber = block.BootNumber;
            Apply(new GuideEvent.Samples(block.Samples));
        }
    }

    private void Apply(GuideEvent what)
    {
        lock (_gate)
        {
            GuideState before = _state;
            (GuideState after, IReadOnlyList<GuidePrompt> prompts) = CalibrationGuide.Handle(before, what);
            Volatile.Write(ref _state, after);
            foreach (GuidePrompt prompt in prompts) Said?.Invoke(prompt);
            if (after.Phase != before.Phase || !ReferenceEquals(after.Taken, before.Taken)) Changed?.Invoke(after);
            if (after.Phase is GuidePhase.Accepted or GuidePhase.Abandoned or GuidePhase.Paused) _over.TrySetResult();
        }
    }
}
