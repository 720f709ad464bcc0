using System.IO.Pipelines;
using System.IO.Ports;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.Links;

/// <summary>A serial port, read by one thread of its own.</summary>
/// <remarks>What System.IO.Ports asks of its user, learnt by pulling cables: a cancelled or timed-out read loses bytes, so reads are never
/// cancelled; a write to a vanished device never completes, so each is bounded and a failed one ends the link; <c>SerialPort.Dispose</c>
/// flushes and can hang after that, so its stream is disposed first.</remarks>
public sealed class SerialRigLink : IRigLink
{
    private const int ReadBytes = 4096;
    private const int BufferedBytesMax = 1 << 20;

    private readonly SerialPort _port;
    private readonly Stream _stream;
    private readonly Thread _reader;
    private readonly Pipe _pipe = new(new PipeOptions(
        pauseWriterThreshold: BufferedBytesMax, resumeWriterThreshold: BufferedBytesMax / 2, useSynchronizationContext: false));

    private Task _closing = Task.CompletedTask;
    private readonly SemaphoreSlim _writing = new(1, 1);
    private readonly TaskCompletionSource<LinkEnd> _closed = new(TaskCreationOptions.RunContinuationsAsynchronously);

    private SerialRigLink(SerialPort port, string name)
    {
        Name = name;
        _port = port;
        _stream = port.BaseStream;
        _reader = new Thread(ReadLoop) { IsBackground = true, Name = "serial reader" };
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <inheritdoc/>
    public double? BytesPerSecond => LineLoad.BytesPerSecond(_port.BaudRate);

    /// <inheritdoc/>
    public PipeReader Input => _pipe.Reader;

    /// <inheritdoc/>
    public Task<LinkEnd> Closed => _closed.Task;

    /// <summary>Opens a port by the best way that this system has.</summary>
    /// <exception cref="LinkOpenException">It could not be opened; the message names path, cause and remedy.</exception>
    public static IRigLink OpenBest(SerialLinkSettings settings)
    {
        // Before the port is opened for its settings: that keeps all later ones away.
        if (!OperatingSystem.IsLinux() || DescriptorLink.TryOpenDescriptor(settings.Path) is not { } descriptor) return Open(settings);
        SerialPort port;
        try
        {
            port = OpenPort(settings);
        }
        catch
        {
            UnixCalls.Close(descriptor);
            throw;
        }

        return DescriptorLink.Start(port, descriptor, RigText.PortAtRate(settings.Path, settings.BaudRate));
    }

    /// <summary>Opens a port.</summary>
    /// <exception cref="LinkOpenException">It could not be opened; the message names path, cause and remedy.</exception>
    public static SerialRigLink Open(SerialLinkSettings settings)
    {
        var link = new SerialRigLink(OpenPort(settings), RigText.PortAtRate(settings.Path, settings.BaudRate));
        link._reader.Start();
        return link;
    }

    private static SerialPort OpenPort(SerialLinkSettings settings)
    {
        var port = new SerialPort();
        try
        {
            port.PortName = settings.Path;
            port.BaudRate = settings.BaudRate;
            // Both time-outs stay infinite, which is the default: a read that times out can eat bytes.
            port.Open();
            TrySet(() => port.DtrEnable = settings.RaiseDtr);
            TrySet(() => port.RtsEnable = settings.RaiseRts);
            TrySet(port.DiscardInBuffer);
        }
        catch (Exception e) when (e is UnauthorizedAccessException or IOException or ArgumentException or InvalidOperationException)
        {
            Quietly(port.Dispose);
            throw SerialOpenFaults.Explain(settings, e);
        }

        return port;
    }

    /// <inheritdoc/>
    public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes)
    {
        if (!await _writing.WaitAsync(LinkTimes.WriteMax).ConfigureAwait(false)) throw WriteFailed(RigText.EarlierWriteNotEnded, null);
        try
        {
            if (_closed.Task.IsCompleted) throw new IOException((await _closed.Task.ConfigureAwait(false)).Message);
            await _stream.WriteAsync(bytes, CancellationToken.None).AsTask().WaitAsync(LinkTimes.WriteMax).ConfigureAwait(false);
        }
        catch (Exception e) when (e is TimeoutException or IOException or InvalidOperationException or UnauthorizedAccessException)
        {
            throw WriteFailed(e is TimeoutException ? RigText.LongerThanASecond : Sentence.Verbatim(e.Message), e);
        }
        finally
        {
            _writing.Release();
        }
    }

    /// <inheritdoc/>
    public void Close(LinkEnd reason)
    {
        if (!_closed.TrySetResult(reason)) return;
        _pipe.Writer.CancelPendingFlush();
        // A driver may take its time: whoever calls this, the control loop too, must not wait for it.
        _closing = Task.Run(() =>
        {
            Quietly(_stream.Dispose);
            Quietly(_port.Dispose);
        });
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync() => await Task.Run(() =>
    {
        Close(new LinkEnd(LinkEndKind.ClosedHere, RigText.WasClosed(Name)));
        _closing.Wait(LinkTimes.DisposeMax);
        _reader.Join(LinkTimes.DisposeMax);
    }).ConfigureAwait(false);

    private void ReadLoop()
    {
        Sentence why = RigText.NothingMoreRead;
        try
        {
            while (true)
            {
                int read = _stream.Read(_pipe.Writer.GetSpan(ReadBytes));
                if (read <= 0) break;
                _pipe.Writer.Advance(read);
                ValueTask<FlushResult> flush = _pipe.Writer.FlushAsync();
                FlushResult flushed = flush.IsCompleted ? flush.Result : flush.AsTask().GetAwaiter().GetResult();
                if (flushed.IsCompleted || flushed.IsCanceled) break;
            }
        }
        catch (Exception e)
        {
            // Whatever it is, a reader thread must not take the process down: the link has ended.
            why = Sentence.Verbatim(e.Message);
        }

        Close(new LinkEnd(LinkEndKind.Vanished, RigText.PortWentAway(Name, why)));
        _pipe.Writer.Complete();
    }

    private IOException WriteFailed(Sentence why, Exception? cause)
    {
        var end = new LinkEnd(LinkEndKind.WriteFailed, RigText.WritingToPortFailed(Name, why));
        Close(end);
        return new IOException(end.Message, cause);
    }

    private static void TrySet(Action set)
    {
        try
        {
            set();
        }
        catch (IOException)
        {
            // A pseudo-terminal and some adapters have no such line: the device then decides without it.
        }
    }

    internal static void Quietly(Action action)
    {
        try
        {
            action();
        }
        catch (Exception)
        {
            // The device may be gone already: whatever its closing throws changes nothing.
        }
    }
}
