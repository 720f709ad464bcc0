using Microsoft.Extensions.Logging;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Rig.Control;

/// <summary>What the parts of the control loop share: services, time, the log, and the ways to other threads, to the sequence and to
/// whoever looks.</summary>
internal sealed class LoopContext(RigServices services, RigControllerOptions options, ControlInbox inbox)
{
    public RigServices Services => services;

    /// <summary>What is set for the rig; hand motion may be set anew.</summary>
    public RigControllerOptions Options { get; set; } = options;

    public TimeProvider Time => services.Time;

    public ILogger Log => services.Log;

    /// <summary>How much of what was given to other threads is still under way.</summary>
    public int OffLoop { get; private set; }

    /// <summary>Whether something is to be seen before the next snapshot is due.</summary>
    public bool IsSnapshotWanted { get; set; }

    /// <summary>The sequence now; null where none was started.</summary>
    public Func<SequenceState?> Sequence { get; set; } = () => null;

    /// <summary>Has the sequence react to something; nothing happens where there is none.</summary>
    public Action<SequenceEvent> Raise { get; set; } = _ => { };

    /// <summary>Conditions of motion may have changed: the sequence hears of them where they have.</summary>
    public Action OnConditionsChanged { get; set; } = () => { };

    /// <summary>Shows what there is at the end of this turn of the loop.</summary>
    public void PublishSoon() => IsSnapshotWanted = true;

    /// <summary>Has something done on the loop.</summary>
    public void Post(Action action) => inbox.Post(action);

    /// <summary>How much waits for the loop.</summary>
    public int InboxWaiting => inbox.Waiting;

    /// <summary>Something was given to other threads; its result comes back through the inbox before this counts as done.</summary>
    public void RunOffLoop(Task work)
    {
        OffLoop++;
        _ = work.ContinueWith(_ => inbox.Post(() => OffLoop--), TaskScheduler.Default);
    }
}
