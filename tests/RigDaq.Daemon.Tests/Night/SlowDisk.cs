namespace RigDaq.Daemon.Tests.Night;

/// <summary>A disk that takes its time, by the night's clock: what is to be stored waits until it is its turn. Safe for several
/// threads.</summary>
internal sealed class SlowDisk(NightClock clock)
{
    private readonly Lock _lock = new();
    private readonly List<(TimeSpan Due, TaskCompletionSource Turn)> _waiting = [];

    /// <summary>How long the next one takes; nothing on a good day.</summary>
    public TimeSpan Takes { get; set; }

    /// <summary>How many wait for the clock.</summary>
    public int Waiting
    {
        get { lock (_lock) return _waiting.Count; }
    }

    /// <summary>How often something had to wait.</summary>
    public int Waits { get; private set; }

    /// <summary>Its turn, later by what the disk takes.</summary>
    public Task TurnAsync()
    {
        lock (_lock)
        {
            if (Takes == TimeSpan.Zero) return Task.CompletedTask;
            Waits++;
            var turn = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
            _waiting.Add((clock.Passed + Takes, turn));
            return turn.Task;
        }
    }

    /// <summary>Whose time has come has its turn; everyone where the process ends.</summary>
    public void Release(bool everyone = false)
    {
        lock (_lock)
        {
            foreach ((TimeSpan due, TaskCompletionSource turn) in _waiting.ToArray())
            {
                if (!everyone && due > clock.Passed) continue;
                _waiting.RemoveAll(one => one.Turn == turn);
                turn.SetResult();
            }
        }
    }
}
