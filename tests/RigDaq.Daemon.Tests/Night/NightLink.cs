using System.IO.Pipelines;
using RigDaq.Protocol.Frames;
using RigDaq.Rig.Links;
using RigDaq.Text;

namespace RigDaq.Daemon.Tests.Night;

/// <summary>
/// One opening of the cable between the real session and the virtual device, without a thread of its own: what the device has
/// said is carried when the night says so.
/// </summary>
internal sealed class NightLink(IDuplexPipe cable, Action<byte[]> written) : IRigLink
{
    private readonly Pipe _toHost = new(new PipeOptions(
        pauseWriterThreshold: 0, readerScheduler: PipeScheduler.Inline, writerScheduler: PipeScheduler.Inline,
            useSynchronizationContext: false));

    private readonly TaskCompletionSource<LinkEnd> _closed = new();
    private readonly FrameDecoder _sent = new();
    private bool _isCut;

    public string Name => "the night's cable";

    public PipeReader Input => _toHost.Reader;

    public Task<LinkEnd> Closed => _closed.Task;

    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes)
    {
        if (_closed.Task.IsCompleted || _isCut) return ValueTask.FromException(new IOException("The cable is cut."));
        ReadOnlySpan<byte> rest = bytes.Span;
        while (_sent.TryRead(ref rest, out ReadOnlySpan<byte> payload))
        {
            written(payload.ToArray());
        }

        try
        {
            ValueTask<FlushResult> write = cable.Output.WriteAsync(bytes);
            // The device reads at every step: far less than the pipe takes is ever under way.
            if (write.IsCompletedSuccessfully && !write.Result.IsCompleted) return ValueTask.CompletedTask;
        }
        catch (Exception e) when (e is IOException or InvalidOperationException)
        {
            // It was pulled: the reading side tells why.
        }

        Close(new LinkEnd(LinkEndKind.WriteFailed, Sentence.Verbatim("Nothing can be written to the night's cable.")));
        return ValueTask.FromException(new IOException("The other side is gone."));
    }

    /// <summary>Carries what the device has said.</summary>
    public void Carry()
    {
        try
        {
            while (!_closed.Task.IsCompleted && !_isCut && cable.Input.TryRead(out ReadResult read))
            {
                foreach (ReadOnlyMemory<byte> piece in read.Buffer)
                {
                    piece.Span.CopyTo(_toHost.Writer.GetSpan(piece.Length));
                    _toHost.Writer.Advance(piece.Length);
                }

                cable.Input.AdvanceTo(read.Buffer.End);
                // There is no threshold: it never waits.
                if (!read.Buffer.IsEmpty) _toHost.Writer.FlushAsync().AsTask().GetAwaiter().GetResult();
                if (read.IsCompleted) Close(new LinkEnd(LinkEndKind.Vanished, Sentence.Verbatim("The night's cable was pulled.")));
            }
        }
        catch (IOException e)
        {
            Close(new LinkEnd(LinkEndKind.Vanished, Sentence.Verbatim(e.Message)));
        }
    }

    public void Close(LinkEnd reason)
    {
        if (!_closed.TrySetResult(reason)) return;
        Leave();
        _toHost.Writer.Complete();
    }

    /// <summary>The process is gone: the cable is let go, and nobody is told.</summary>
    public void Cut()
    {
        _isCut = true;
        Leave();
    }

    public ValueTask DisposeAsync()
    {
        Close(new LinkEnd(LinkEndKind.ClosedHere, Sentence.Verbatim("Closed.")));
        return ValueTask.CompletedTask;
    }

    private void Leave()
    {
        try
        {
            cable.Output.Complete();
        }
        catch (InvalidOperationException)
        {
            // Pulled at the other end at the same time.
        }
    }
}
