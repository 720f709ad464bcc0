using System.IO.Pipelines;
using System.IO.Ports;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Links;

/// <summary>
/// A serial port on Linux by a descriptor of its own: one thread waits for what arrives, and a write goes to the driver at once and never
/// waits. System.IO.Ports sets the line up and is not read or written: its writes pass through a loop that polls, and took up to 13 ms on a
/// busy machine where these take hundredths.
/// </summary>
internal sealed class DescriptorLink : IRigLink
{
    /// <summary>How many bytes may wait for the driver; more are a device that does not take them.</summary>
    public const int WaitingBytesMax = 4_096;

    private const int ReadBytes = 4_096;
    private const int BufferedBytesMax = 1 << 20;

    private readonly SerialPort _port;
    private readonly int _descriptor;
    private readonly int _wake;
    private readonly Thread _thread;
    private readonly Lock _writing = new();
    private readonly byte[] _waiting = new byte[WaitingBytesMax];
    // What arrives is taken apart on this link's own thread: nothing between the wire and the control loop waits for the thread pool.
    private readonly Pipe _pipe = new(new PipeOptions(
        pauseWriterThreshold: BufferedBytesMax, resumeWriterThreshold: BufferedBytesMax / 2, readerScheduler: PipeScheduler.Inline,
            useSynchronizationContext: false));

    private readonly TaskCompletionSource<LinkEnd> _closed = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private int _waitingBytes;
    private long _waitingSince;
    private bool _isOver;

    private DescriptorLink(SerialPort port, int descriptor, int wake, string name)
    {
        Name = name;
        _port = port;
        _descriptor = descriptor;
        _wake = wake;
        _thread = new Thread(Run) { IsBackground = true, Name = "serial line" };
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <summary>How many bytes wait for the driver.</summary>
    public int WaitingBytes
    {
        get { lock (_writing) return _waitingBytes; }
    }

    /// <inheritdoc/>
    public double? BytesPerSecond => LineLoad.BytesPerSecond(_port.BaudRate);

    /// <inheritdoc/>
    public PipeReader Input => _pipe.Reader;

    /// <inheritdoc/>
    public Task<LinkEnd> Closed => _closed.Task;

    /// <summary>Opens a descriptor before the port is opened for its settings, which keeps all later ones away; null where it cannot be
    /// had.</summary>
    public static int? TryOpenDescriptor(string path)
    {
        int descriptor = UnixCalls.OpenTerminal(path);
        return descriptor >= 0 ? descriptor : null;
    }

    /// <summary>Takes over a port that is open and set up, and a descriptor of it.</summary>
    public static DescriptorLink Start(SerialPort port, int descriptor, string name)
    {
        var link = new DescriptorLink(port, descriptor, UnixCalls.NewWake(), name);
        link._thread.Start();
        return link;
    }

    /// <inheritdoc/>
    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes)
    {
        lock (_writing)
        {
            if (_isOver || _closed.Task.IsCompleted) return
                ValueTask.FromException(new IOException(_closed.Task.IsCompleted ? _closed.Task.Result.Message : RigText.WasClosed(Name)));
            ReadOnlySpan<byte> rest = bytes.Span;
            if (_waitingBytes == 0)
            {
                int written = UnixCalls.Write(_descriptor, rest);
                if (written < 0) return ValueTask.FromException(WriteFailed(Sentence.Verbatim(UnixCalls.LastFault)));
                rest = rest[written..];
                if (rest.IsEmpty) return ValueTask.CompletedTask;
                _waitingSince = Environment.TickCount64;
            }

            if (_waitingBytes + rest.Length > WaitingBytesMax) return ValueTask.FromException(WriteFailed(RigText.EarlierWriteNotEnded));
            rest.CopyTo(_waiting.AsSpan(_waitingBytes));
            _waitingBytes += rest.Length;
        }

        UnixCalls.Wake(_wake);
        return ValueTask.CompletedTask;
    }

    /// <inheritdoc/>
    // The thread closes what is open: whoever calls this, the control loop too, must not wait for a driver.
    public void Close(LinkEnd reason)
    {
        if (!_closed.TrySetResult(reason)) return;
        _pipe.Writer.CancelPendingFlush();
        lock (_writing)
        {
            if (!_isOver) UnixCalls.Wake(_wake);
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync() => await Task.Run(() =>
    {
        Close(new LinkEnd(LinkEndKind.ClosedHere, RigText.WasClosed(Name)));
        _thread.Join(LinkTimes.DisposeMax);
    }).ConfigureAwait(false);

    private void Run()
    {
        Scheduling.TryRaiseThisThread();
        Sentence why = RigText.NothingMoreRead;
        try
        {
            while (!_closed.Task.IsCompleted)
            {
                LineState state = UnixCalls.Wait(_descriptor, _wake, WaitMilliseconds(out bool wantsRoom), wantsRoom);
                if (_closed.Task.IsCompleted) break;
                if (state.HasFlag(LineState.HasRoom) || wantsRoom) SendWaiting();
                if (!state.HasFlag(LineState.HasBytes)) continue;
                int read = UnixCalls.Read(_descriptor, _pipe.Writer.GetSpan(ReadBytes));
                if (read < 0) why = Sentence.Verbatim(UnixCalls.LastFault);
                if (read <= 0 && !UnixCalls.MustTryAgain(read)) break;
                if (read <= 0) continue;
                _pipe.Writer.Advance(read);
                ValueTask<FlushResult> flush = _pipe.Writer.FlushAsync();
                FlushResult flushed = flush.IsCompleted ? flush.Result : flush.AsTask().GetAwaiter().GetResult();
                if (flushed.IsCompleted || flushed.IsCanceled) break;
            }
        }
        catch (Exception e)
        {
            // Whatever it is, this thread must not take the process down: the link has ended.
            why = Sentence.Verbatim(e.Message);
        }

        Close(new LinkEnd(LinkEndKind.Vanished, RigText.PortWentAway(Name, why)));
        lock (_writing)
        {
            _isOver = true;
            UnixCalls.Close(_descriptor);
            UnixCalls.Close(_wake);
        }

        _pipe.Writer.Complete();
        SerialRigLink.Quietly(_port.BaseStream.Dispose);
        SerialRigLink.Quietly(_port.Dispose);
    }

    /// <summary>For ever where nothing waits; else until a write has taken too long.</summary>
    private int WaitMilliseconds(out bool wantsRoom)
    {
        lock (_writing)
        {
            wantsRoom = _waitingBytes > 0;
            return wantsRoom ? (int)Math.Max(1, LinkTimes.WriteMax.TotalMilliseconds - (Environment.TickCount64 - _waitingSince)) : -1;
        }
    }

    private void SendWaiting()
    {
        lock (_writing)
        {
            if (_waitingBytes == 0) return;
            int written = UnixCalls.Write(_descriptor, _waiting.AsSpan(0, _waitingBytes));
            if (written < 0)
            {
                WriteFailed(Sentence.Verbatim(UnixCalls.LastFault));
                return;
            }

            if (written > 0)
            {
                _waiting.AsSpan(written, _waitingBytes - written).CopyTo(_waiting);
                _waitingBytes -= written;
                _waitingSince = Environment.TickCount64;
            }
            else if (Environment.TickCount64 - _waitingSince >= LinkTimes.WriteMax.TotalMilliseconds)
            {
                // Half a frame may be on the line.
                WriteFailed(RigText.LongerThanASecond);
            }
        }
    }

    private IOException WriteFailed(Sentence why)
    {
        var end = new LinkEnd(LinkEndKind.WriteFailed, RigText.WritingToPortFailed(Name, why));
        Close(end);
        return new IOException(end.Message);
    }
}
