using RigDaq.Core.Calibration.Guided;
using RigDaq.Rig.Control;

namespace RigDaq.App.Calibrations;

/// <summary>Drives a guided calibration with a live rig: hands the guide every block of counts, and tells what it says. The guide decides;
/// this only carries. Safe for several threads.</summary>
internal sealed class CalibrationRunner : IAsyncDisposable
{
    private readonly Lock _lock = new();
    private readonly LiveSubscription _live;
    private Task _pump = Task.CompletedTask;
    private GuideState _state;

    /// <summary>Takes up a state; nothing is carried before <see cref="Start"/>, so that whoever listens hears all.</summary>
    /// <param name="rig">The rig; only looked at.</param>
    /// <param name="state">From <see cref="CalibrationGuide.Begin"/>, or kept from an earlier session.</param>
    public CalibrationRunner(ILiveRig rig, GuideState state)
    {
        _state = state;
        _live = rig.SubscribeLive(LiveSubscription.BlocksMax);
    }

    /// <summary>Why it broke off; null while it has not. Whatever a handler or the guide threw: nothing is carried any more, and another
    /// one can be begun.</summary>
    public Exception? Fault { get; private set; }

    /// <summary>It broke off. Raised once, on the task that carries.</summary>
    public event Action<Exception>? BrokeOff;

    /// <summary>The guide says something. Raised one at a time; handlers must be quick.</summary>
    public event Action<GuidePrompt>? Prompted;

    /// <summary>Another state stands. Raised once a block; handlers must be quick.</summary>
    public event Action<GuideState>? Changed;

    /// <summary>Where it stands; survives as JSON.</summary>
    public GuideState State
    {
        get
        {
            lock (_lock) return _state;
        }
    }

    /// <summary>Begins to carry. Once.</summary>
    public void Start() => _pump = Task.Run(PumpAsync);

    /// <summary>A person did something; where a curve is accepted, of which degree.</summary>
    public void Do(PersonAction action, int degree = 1) => Handle(new GuideEvent.Person(action, degree));

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        _live.Dispose();
        await _pump.ConfigureAwait(false);
    }

    private async Task PumpAsync()
    {
        try
        {
            await foreach (LiveBlock block in _live.Blocks.ReadAllAsync().ConfigureAwait(false))
                Handle(new GuideEvent.Samples(block.Samples, block.BootNumber));
        }
        catch (Exception e)
        {
            // Handlers are other rooms': a fault of theirs ends this calibration, never the next one or the program's orderly end.
            Fault = e;
            BrokeOff?.Invoke(e);
        }
    }

    private void Handle(GuideEvent what)
    {
        lock (_lock)
        {
            (_state, IReadOnlyList<GuidePrompt> prompts) = CalibrationGuide.Handle(_state, what);
            GuideState state = _state;
            foreach (GuidePrompt prompt in prompts) Prompted?.Invoke(prompt);
            // Inside, so that states are heard in their order.
            Changed?.Invoke(state);
        }
    }
}
