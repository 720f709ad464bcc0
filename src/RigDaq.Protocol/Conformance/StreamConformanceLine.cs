namespace RigDaq.Protocol.Conformance;

/// <summary>A device behind an open duplex stream (a serial port's) in real time.</summary>
/// <remarks>A read that is pending is never cancelled: on a serial port that loses bytes. One call at a time.</remarks>
public sealed class StreamConformanceLine(Stream stream, TimeProvider time) : IConformanceLine
{
    private readonly byte[] _buffer = new byte[4096];
    private Task<int>? _read;

    /// <inheritdoc/>
    public async ValueTask<ReadOnlyMemory<byte>> ExchangeAsync(ReadOnlyMemory<byte> toDevice, TimeSpan duration)
    {
        if (!toDevice.IsEmpty)
        {
            await stream.WriteAsync(toDevice).ConfigureAwait(false);
            await stream.FlushAsync().ConfigureAwait(false);
        }

        var arrived = new List<byte>();
        Task end = Task.Delay(duration, time);
        while (true)
        {
            _read ??= stream.ReadAsync(_buffer).AsTask();
            if (await Task.WhenAny(_read, end).ConfigureAwait(false) == end && !_read.IsCompleted) return arrived.ToArray();
            int count = await _read.ConfigureAwait(false);
            _read = null;
            if (count == 0) throw new IOException("The line has ended: nothing more comes from the device.");
            arrived.AddRange(_buffer.AsSpan(0, count));
            if (end.IsCompleted) return arrived.ToArray();
        }
    }
}
