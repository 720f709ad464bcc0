namespace RigDaq.Virtual.Machine;

/// <summary>Tells how much wall time has passed, about every five milliseconds. Under load the portions become longer, never more
/// frequent.</summary>
/// <remarks>On the system's clock it is a thread of its own, so that a busy pool of threads cannot stop the rig; on any other time provider
/// (a test's) it is a task on that provider's timer.</remarks>
internal sealed class Pacer : IAsyncDisposable
{
    /// <summary>How often.</summary>
    public static readonly TimeSpan Interval = TimeSpan.FromMilliseconds(5);

    /// <summary>How much wall time a late portion may make good; the rest of rig time slips.</summary>
    public static readonly TimeSpan CatchUpMax = TimeSpan.FromMilliseconds(50);

    private readonly TimeProvider _time;
    private readonly Action<TimeSpan> _pass;
    private readonly ManualResetEventSlim? _stop;
    private readonly PeriodicTimer? _timer;
    private readonly TaskCompletionSource _threadEnded = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly Task _ended;
    private long _before;

    public Pacer(TimeProvider time, Action<TimeSpan> pass)
    {
        _time = time;
        _pass = pass;
        _before = time.GetTimestamp();
        if (ReferenceEquals(time, TimeProvider.System))
        {
            _stop = new ManualResetEventSlim();
            _ended = _threadEnded.Task;
            new Thread(RunThread) { IsBackground = true, Name = "virtual rig" }.Start();
        }
        else
        {
            _timer = new PeriodicTimer(Interval, time);
            _ended = RunTask();
        }
    }

    public async ValueTask DisposeAsync()
    {
        _stop?.Set();
        _timer?.Dispose();
        await _ended.ConfigureAwait(false);
        _stop?.Dispose();
    }

    private void RunThread()
    {
        try
        {
            while (!_stop!.Wait(Interval)) Pass();
            _threadEnded.SetResult();
        }
        catch (Exception failure)
        {
            // Whoever switches the rig off gets it; a thread has nobody else to tell.
            _threadEnded.SetException(failure);
        }
    }

    private async Task RunTask()
    {
        while (await _timer!.WaitForNextTickAsync().ConfigureAwait(false)) Pass();
    }

    private void Pass()
    {
        long now = _time.GetTimestamp();
        TimeSpan elapsed = _time.GetElapsedTime(_before, now);
        _before = now;
        _pass(elapsed);
    }
}
