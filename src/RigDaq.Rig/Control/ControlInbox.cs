namespace RigDaq.Rig.Control;

/// <summary>What waits for the control loop: things to do, which come first (a stop overtakes whatever has arrived), and frames in the
/// order in which they came.</summary>
internal sealed class ControlInbox
{
    /// <summary>How many things may wait; more are a fault of the program.</summary>
    public const int ActionsMax = 10_000;

    private readonly object _gate = new();
    private readonly Queue<Action> _actions = new();
    private readonly Queue<FrameBuffer> _frames = new();
    private bool _ended;

    /// <summary>Hands something to the loop. False where the loop has ended.</summary>
    public bool Post(Action action)
    {
        lock (_gate)
        {
            if (_ended) return false;
            if (_actions.Count >= ActionsMax) throw new InvalidOperationException("The control loop does not keep up with what is asked of it.");
            _actions.Enqueue(action);
            Monitor.Pulse(_gate);
            return true;
        }
    }

    /// <summary>Hands over a frame. How many may wait is bounded by the pool that they come from.</summary>
    public void PostFrame(FrameBuffer frame)
    {
        lock (_gate)
        {
            if (_ended) return;
            _frames.Enqueue(frame);
            Monitor.Pulse(_gate);
        }
    }

    /// <summary>Puts a mark behind the frames that wait. False where the loop has ended.</summary>
    public bool PostMark(TaskCompletionSource reached)
    {
        lock (_gate)
        {
            if (_ended) return false;
            _frames.Enqueue(new FrameBuffer { CaughtUp = reached });
            Monitor.Pulse(_gate);
            return true;
        }
    }

    /// <summary>Waits for the next thing, or for the time to pass. At most one of the two is not null.</summary>
    /// <returns>False where nothing more comes: it has ended, and what had been taken before was handed out.</returns>
    public bool Take(TimeSpan waitMax, out Action? action, out FrameBuffer? frame)
    {
        lock (_gate)
        {
            if (_actions.Count == 0 && _frames.Count == 0 && !_ended) Monitor.Wait(_gate, waitMax);
            action = null;
            frame = null;
            return _actions.TryDequeue(out action) || _frames.TryDequeue(out frame) || !_ended;
        }
    }

    /// <summary>How many things and frames wait.</summary>
    public int Waiting
    {
        get { lock (_gate) return _actions.Count + _frames.Count; }
    }

    /// <summary>Whether nothing waits.</summary>
    public bool IsEmpty
    {
        get { lock (_gate) return _actions.Count == 0 && _frames.Count == 0; }
    }

    /// <summary>Nothing more is taken; what waits is still handed out.</summary>
    public void End()
    {
        lock (_gate)
        {
            _ended = true;
            Monitor.PulseAll(_gate);
        }
    }
}
