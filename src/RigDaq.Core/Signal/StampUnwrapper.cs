namespace RigDaq.Core.Signal;

/// <summary>
/// Turns the device's 32-bit microsecond stamps, which wrap every 71.6 minutes, into 64 bits. Stamps may go back by less than
/// half a wrap; a silence longer than that is bridged by the host's clock. Not thread-safe.
/// </summary>
public sealed class StampUnwrapper
{
    /// <summary>A whole turn of the stamp, in microseconds.</summary>
    public const long WrapMicroseconds = 1L << 32;

    private long _device;
    private long _host;
    private bool _started;

    /// <summary>Unwraps a stamp.</summary>
    /// <param name="stamp">As it was sent.</param>
    /// <param name="hostMicroseconds">When it arrived, on the host's monotonic clock; only whole turns are counted by it.</param>
    /// <returns>The first stamp as it is, later ones on the same scale.</returns>
    public long Unwrap(uint stamp, long hostMicroseconds)
    {
        if (!_started)
        {
            _started = true;
            _device = stamp;
            _host = hostMicroseconds;
            return _device;
        }

        // The nearest value with these low bits to where the device must be by now. Arrival is late by seconds at the most and
        // the crystals differ by parts in ten thousand: far less than half a turn for days of silence.
        long expected = _device + (hostMicroseconds - _host);
        int ahead = unchecked((int)(stamp - (uint)expected));
        long unwrapped = expected + ahead;
        if (unwrapped >= _device)
        {
            _device = unwrapped;
            _host = hostMicroseconds;
        }

        return unwrapped;
    }
}
