using RigDaq.Core.Signal;

namespace RigDaq.Rig.Session;

/// <summary>
/// When a sample was taken, on the host's clocks: by the robust line through (arrival, stamp) pairs, one a block, so that a late packet
/// moves nothing. What a line cannot be, an arrival that is far off it (a virtual rig whose clock runs faster, a clock that was set), falls
/// back to the block's arrival. The line goes through the promptest arrivals: what even those took on the way stays in it.
/// </summary>
/// <remarks>Used by one thread. Allocates nothing after construction.</remarks>
internal sealed class SampleTimes(TimeProvider time)
{
    /// <summary>A block's arrival lies at most so far behind the line, or the line is not believed.</summary>
    public static readonly TimeSpan LateMax = TimeSpan.FromSeconds(5);

    /// <summary>Nor ahead of it by more than this: nothing arrives before it was sent.</summary>
    public static readonly TimeSpan EarlyMax = TimeSpan.FromMilliseconds(20);

    private readonly SampleClock _clock = new();
    private readonly long _origin = time.GetTimestamp();
    private long _lastStamp;
    private long _lastArrival;
    private bool _any;

    /// <summary>By how much the device's clock runs slower than the host's, in parts per million; 0 until it is known.</summary>
    public double DeviationPartsPerMillion => _clock.DeviationPartsPerMillion;

    /// <summary>Takes a block.</summary>
    /// <param name="lastStampMicroseconds">Its last sample's stamp, unwrapped.</param>
    /// <param name="arrivedAt">A timestamp of the time provider.</param>
    public void Add(long lastStampMicroseconds, long arrivedAt)
    {
        _lastStamp = lastStampMicroseconds;
        _lastArrival = Microseconds(arrivedAt);
        _any = true;
        _clock.Add(_lastStamp, _lastArrival);
    }

    /// <summary>How long ago a sample was taken; null before any block came.</summary>
    /// <param name="stampMicroseconds">Its stamp, unwrapped.</param>
    public TimeSpan? Age(long stampMicroseconds)
    {
        if (!_any) return null;
        long onLine = _clock.HostMicroseconds(_lastStamp);
        long late = _lastArrival - onLine;
        bool believed = late <= LateMax.TotalMicroseconds && late >= -EarlyMax.TotalMicroseconds;
        long taken = believed ? _clock.HostMicroseconds(stampMicroseconds) : _lastArrival - (_lastStamp - stampMicroseconds);
        return TimeSpan.FromMicroseconds(Math.Max(0, Microseconds(time.GetTimestamp()) - taken));
    }

    /// <summary>The wall time at which a sample was taken; null before any block came.</summary>
    public DateTimeOffset? WallTime(long stampMicroseconds) => Age(stampMicroseconds) is { } age ? time.GetUtcNow() - age : null;

    private long Microseconds(long timestamp) => time.GetElapsedTime(_origin, timestamp).Ticks / TimeSpan.TicksPerMicrosecond;
}
