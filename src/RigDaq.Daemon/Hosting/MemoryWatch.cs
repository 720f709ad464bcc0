using System.Runtime;

namespace RigDaq.Daemon.Hosting;

/// <summary>
/// Looks at the memory of the whole process once a second. Where it is above its bound, what anybody on the network can fill is let go:
/// documents that are kept, documents for pages without the key, sessions of who is away. The rig, a pull, the results that wait and the
/// page with the key are never touched. There is no harder bound in here: a runtime that refuses memory refuses it to the control loop as
/// well, and that is worse than a process that the system ends (docs/limits.md).
/// </summary>
internal sealed class MemoryWatch : IHostedService, IDisposable
{
    /// <summary>Above so many bytes of the whole process memory is tight.</summary>
    public const long BytesMax = 400L << 20;

    /// <summary>Below so many it is no longer.</summary>
    public const long EnoughBytes = 350L << 20;

    /// <summary>How often it is looked.</summary>
    public static readonly TimeSpan Every = TimeSpan.FromSeconds(1);

    /// <summary>How often memory is let go, and that said, while it stays tight.</summary>
    public static readonly TimeSpan LetGoEvery = TimeSpan.FromSeconds(30);

    private readonly IReadOnlyList<Action<bool>> _tell;
    private readonly TimeProvider _time;
    private readonly ILogger _log;
    private readonly Func<long> _bytes;
    private readonly Func<bool> _mayPause;
    private ITimer? _timer;
    private bool _isTight;
    private long _letGoAt;

    /// <summary>Made; it looks once it was started.</summary>
    /// <param name="tell">Those who let go: called with true when memory is tight (again and again while it is), with false
    /// when it is no longer.</param>
    /// <param name="mayPause">Whether all threads may stand still for a moment: not while something moves.</param>
    /// <param name="time">The clock.</param>
    /// <param name="log">Hears of it.</param>
    /// <param name="bytes">What the process has; null asks the system.</param>
    public MemoryWatch(IReadOnlyList<Action<bool>> tell, Func<bool> mayPause, TimeProvider time, ILogger log, Func<long>? bytes = null) =>
        (_tell, _mayPause, _time, _log, _bytes) = (tell, mayPause, time, log, bytes ?? (() => Environment.WorkingSet));

    /// <inheritdoc/>
    public Task StartAsync(CancellationToken cancellationToken)
    {
        _timer = _time.CreateTimer(_ => Look(), null, Every, Every);
        return Task.CompletedTask;
    }

    /// <inheritdoc/>
    public Task StopAsync(CancellationToken cancellationToken)
    {
        _timer?.Dispose();
        return Task.CompletedTask;
    }

    /// <inheritdoc/>
    public void Dispose() => _timer?.Dispose();

    private void Look()
    {
        long bytes = _bytes();
        if (bytes > BytesMax && (!_isTight || _time.GetElapsedTime(_letGoAt) >= LetGoEvery)) LetGo(bytes);
        else if (_isTight && bytes < EnoughBytes) Tell(isTight: false);
    }

    private void LetGo(long bytes)
    {
        _letGoAt = _time.GetTimestamp();
        if (_log.IsEnabled(LogLevel.Warning))
            _log.LogWarning("{Megabytes} MB of memory are in use, more than {Most}: documents and sessions of who is away are let go. Pulls and results are not touched.", bytes >> 20, BytesMax >> 20);
        Tell(isTight: true);
        if (!_mayPause()) return;
        GCSettings.LargeObjectHeapCompactionMode = GCLargeObjectHeapCompactionMode.CompactOnce;
        GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
    }

    private void Tell(bool isTight)
    {
        _isTight = isTight;
        foreach (Action<bool> tell in _tell) tell(isTight);
    }
}
