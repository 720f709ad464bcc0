using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;

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
    private bool _isCutOff;

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
        Write(CaptureFormat.Record(CaptureFormat.BlockKind, TraceCodec.Encode(samples)));
        _samples += samples.Length;
    }

    public void AppendChannel(int channel, ReadOnlySpan<ChannelSample> values)
    {
        if (_completed) throw new InvalidOperationException("The capture is complete: nothing can be added to it.");
        if (values.IsEmpty) return;
        Write(CaptureFormat.Record(CaptureFormat.ChannelKind, TraceCodec.Encode(channel, values)));
        _channelValues += values.Length;
    }

    public void Complete(PullRecord pull)
    {
        if (_completed) return;
        Write(CaptureFormat.TextRecord(CaptureFormat.TrailerKind, CaptureTrailer.Of(pull, _samples, _channelValues)));
        _sync.File(_file);
        _completed = true;
        Dispose();
    }

    /// <summary>
    /// One record. What a failed write leaves of it is taken off again: with a later record behind it it would be damage in the midst
    /// of the capture, and every backup would say so for ever. Where even that fails nothing more is written.
    /// </summary>
    private void Write(byte[] record)
    {
        if (_isCutOff) throw new IOException(ArchiveText.CaptureCutOff(_file.Name));
        long whole = _file.Position;
        try
        {
            _sync.Write(_file, record);
        }
        catch
        {
            _isCutOff = true;
            _sync.Cut(_file, whole);
            _isCutOff = false;
            throw;
        }
    }

    public void Dispose()
    {
        _file.Dispose();
        _closed();
    }
}
