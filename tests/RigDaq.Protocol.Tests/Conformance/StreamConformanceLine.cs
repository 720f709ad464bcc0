using RigDaq.Protocol.Conformance;

namespace RigDaq.Protocol.Tests.Conformance;

/// <summary>A device behind an open duplex stream (a serial port's) in real time.</summary>
/// <param name="stream">The line; its owner closes it.</param>
/// <param name="time">The clock.</param>
/// <remarks>A read that is pending is never cancelled: on a serial port that loses bytes. One call at a time.</remarks>
public sealed class StreamConformanceLine(Stream stream, TimeProvider time) : IConformanceLine
{
    private readonly byte[] _buffer = new byte[4096];
    private long? _began;
    private Task<int>? _read;

    /// <inheritdoc/>
    public TimeSpan Elapsed => _began is { } began ? time.GetElapsedTime(began) : TimeSpan.Zero;

    /// <inheritdoc/>
    public async ValueTask<ReadOnlyMemory<byte>> ExchangeAsync(ReadOnlyMemory<byte> toDevice, TimeSpan duration)
    {
        if (!toDevice.IsEmpty)
        {
            await stream.WriteAsync(toDevice).ConfigureAwait(false);
            await stream.FlushAsync().ConfigureAwait(false);
        }

        _began ??= time.GetTimestamp();
        Task end = Task.Delay(duration, time);
        var arrived = new List<byte>();
        while (true)
        {
            _read ??= stream.ReadAsync(_buffer).AsTask();
            await Task.WhenAny(_read, end).ConfigureAwait(false);
            if (!_read.IsCompleted) return arrived.ToArray();
            int count = await _read.ConfigureAwait(false);
            _read = null;
            if (count == 0) throw new IOException("The line has ended: nothing more comes from the device.");
            arrived.AddRange(_buffer.AsSpan(0, count));
            if (end.IsCompleted) return arrived.ToArray();
        }
    }
}
