using RigDaq.Archive.Storage;
using RigDaq.Core.Signal;
using RigDaq.Core.Strength;

namespace RigDaq.Archive.Captures;

/// <summary>
/// Writes one capture. What is appended goes to the operating system at once, unbuffered: blocks come a few dozen times
/// a second, and a timer that flushes would be one more thing to fail.
/// </summary>
internal sealed class CaptureWriter : ICaptureWriter
{
    private readonly FileStream _file;
    private readonly DiskSync _sync;
    private readonly Action _closed;
    private long _samples;
    private long _channelValues;
    private bool _completed;

    public CaptureWriter(FileStream file, DiskSync sync, Action closed)
    {
        _file = file;
        _sync = sync;
        _closed = closed;
    }

    public void Append(ReadOnlySpan<RawSample> samples)
    {
        if (_completed) throw new InvalidOperationException("The capture is complete: nothing can be added to it.");
        if (samples.IsEmpty) return;
        _file.Write(CaptureFormat.Record(CaptureFormat.BlockKind, TraceCodec.Encode(samples)));
        _samples += samples.Length;
    }

    public void AppendChannel(int channel, ReadOnlySpan<ChannelSample> values)
    {
        if (_completed) throw new InvalidOperationException("The capture is complete: nothing can be added to it.");
        if (values.IsEmpty) return;
        _file.Write(CaptureFormat.Record(CaptureFormat.ChannelKind, TraceCodec.Encode(channel, values)));
        _channelValues += values.Length;
    }

    public void Complete(PullRecord pull)
    {
        if (_completed) return;
        _file.Write(CaptureFormat.TextRecord(CaptureFormat.TrailerKind, CaptureTrailer.Of(pull, _samples, _channelValues)));
        _sync.File(_file);
        _completed = true;
        Dispose();
    }

    public void Dispose()
    {
        _file.Dispose();
        _closed();
    }
}
