namespace RigDaq.Virtual;

/// <summary>
/// One task that tells how much wall time has passed, about every five milliseconds. It takes what the time provider gives:
/// under load the portions become longer, never more frequent.
/// </summary>
internal sealed class Pacer : IAsyncDisposable
{
    /// <summary>How often.</summary>
    public static readonly TimeSpan Interval = TimeSpan.FromMilliseconds(5);

    /// <summary>How much wall time a late portion may make good; the rest of rig time slips.</summary>
    public static readonly TimeSpan CatchUpMax = TimeSpan.FromMilliseconds(50);

    private readonly PeriodicTimer _timer;
    private readonly Task _task;

    public Pacer(TimeProvider time, Action<TimeSpan> pass)
    {
        _timer = new PeriodicTimer(Interval, time);
        long before = time.GetTimestamp();
        _task = Task.Run(async () =>
        {
            while (await _timer.WaitForNextTickAsync().ConfigureAwait(false))
            {
                long now = time.GetTimestamp();
                pass(time.GetElapsedTime(before, now));
                before = now;
            }
        });
    }

    public async ValueTask DisposeAsync()
    {
        _timer.Dispose();
        await _task.ConfigureAwait(false);
    }
}
