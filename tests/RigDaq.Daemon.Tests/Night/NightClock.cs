namespace RigDaq.Daemon.Tests.Night;

/// <summary>
/// The night's one clock. What is shown on the wall may be set to and fro by a person, by the network, by a flat battery; what
/// has passed may not.
/// </summary>
internal sealed class NightClock(DateTimeOffset start) : TimeProvider
{
    private TimeSpan _passed;
    private TimeSpan _set;

    /// <summary>What has passed since the evening.</summary>
    public TimeSpan Passed => _passed;

    public override TimeZoneInfo LocalTimeZone => TimeZoneInfo.Utc;

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override DateTimeOffset GetUtcNow() => start + _passed + _set;

    public override long GetTimestamp() => _passed.Ticks;

    public void Pass(TimeSpan time) => _passed += time;

    /// <summary>Sets the wall clock by so much, either way.</summary>
    public void Set(TimeSpan by) => _set += by;
}
