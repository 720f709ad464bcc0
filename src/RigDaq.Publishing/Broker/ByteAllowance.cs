namespace RigDaq.Publishing.Broker;

/// <summary>How many bytes may come in a time: so many at once, then as they grow back. Safe for many threads.</summary>
internal sealed class ByteAllowance(long bytesMax, long bytesPerSecond, TimeProvider time)
{
    private readonly Lock _lock = new();
    private double _left = bytesMax;
    private long _at = time.GetTimestamp();

    /// <summary>Takes some; false where there are not so many left, and then none are taken.</summary>
    public bool TryTake(long bytes)
    {
        lock (_lock)
        {
            long now = time.GetTimestamp();
            _left = Math.Min(bytesMax, _left + (time.GetElapsedTime(_at, now).TotalSeconds * bytesPerSecond));
            _at = now;
            if (bytes > _left) return false;
            _left -= bytes;
            return true;
        }
    }
}
