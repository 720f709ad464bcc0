using System.Buffers;
using System.IO.Pipelines;

namespace RigDaq.Virtual.Lines;

/// <summary>A line inside the process: two pipes, so that it runs on any system and without a kernel between.</summary>
internal sealed class PipeLine : IDeviceLine
{
    /// <summary>What the host may leave unread before the line counts as full.</summary>
    private const int UnreadBytesMax = 64 * 1024;

    private readonly Pipe _toHost = MakePipe();
    private readonly Pipe _toDevice = MakePipe();
    private Task<FlushResult>? _flush;
    private bool _ended;

    public PipeLine() => HostEnd = new End(_toHost.Reader, _toDevice.Writer);

    /// <summary>The host's end.</summary>
    public IDuplexPipe HostEnd { get; }

    public bool IsConnected => !_ended;

    public int Read(Span<byte> buffer)
    {
        if (_ended || !_toDevice.Reader.TryRead(out ReadResult result)) return 0;
        ReadOnlySequence<byte> taken = result.Buffer.Slice(0, Math.Min(result.Buffer.Length, buffer.Length));
        taken.CopyTo(buffer);
        bool done = result.IsCompleted && taken.Length == result.Buffer.Length;
        _toDevice.Reader.AdvanceTo(taken.End);
        if (done) EndWith(null);
        return (int)taken.Length;
    }

    public int Write(ReadOnlySpan<byte> bytes)
    {
        if (_ended || _flush is { IsCompleted: false }) return 0;
        if (HostIsGone()) return 0;
        bytes.CopyTo(_toHost.Writer.GetSpan(bytes.Length));
        _toHost.Writer.Advance(bytes.Length);
        _flush = _toHost.Writer.FlushAsync().AsTask();
        HostIsGone();
        return bytes.Length;
    }

    /// <summary>Ends the line as an unplugged cable does.</summary>
    public void EndWith(Exception? cause)
    {
        if (_ended) return;
        _ended = true;
        _toHost.Writer.Complete(cause);
        _toDevice.Reader.Complete(cause);
    }

    public void Dispose() => EndWith(null);

    private bool HostIsGone()
    {
        if (_flush is not { IsCompleted: true } || (_flush.IsCompletedSuccessfully && !_flush.Result.IsCompleted)) return false;
        EndWith(null);
        return true;
    }

    private static Pipe MakePipe() => new(new PipeOptions(
        pauseWriterThreshold: UnreadBytesMax, resumeWriterThreshold: UnreadBytesMax / 2, useSynchronizationContext: false));

    private sealed record End(PipeReader Input, PipeWriter Output) : IDuplexPipe;
}
