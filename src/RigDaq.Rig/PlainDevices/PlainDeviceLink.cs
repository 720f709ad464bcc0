using System.Buffers;
using System.IO.Pipelines;
using System.Threading.Channels;
using RigDaq.Protocol.Frames;
using RigDaq.Rig.Links;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>
/// A link that speaks the wire towards the session and text towards the device, so that nothing above it has to know the
/// difference. One task owns the device's state; bytes, commands and time reach it through one bounded queue.
/// </summary>
public sealed class PlainDeviceLink : IRigLink
{
    /// <summary>How many lines and commands may wait; the line waits where it is full, a command is repeated by the session.</summary>
    public const int HappeningsMax = 1_024;

    private const int BufferedBytesMax = 1 << 20;

    private readonly IRigLink _inner;
    private readonly PlainDeviceSettings _settings;
    private readonly TimeProvider _time;
    private readonly PlainDevice _device;
    private readonly InstrumentAsker? _asker;
    private readonly Pipe _toHost = new(new PipeOptions(
        pauseWriterThreshold: BufferedBytesMax, resumeWriterThreshold: BufferedBytesMax / 2, useSynchronizationContext: false));

    private readonly Channel<Happening> _happenings = Channel.CreateBounded<Happening>(
        new BoundedChannelOptions(HappeningsMax) { SingleReader = true, FullMode = BoundedChannelFullMode.Wait });

    private readonly CancellationTokenSource _ended = new();
    private readonly FrameDecoder _commands = new();
    private readonly Lock _decoding = new();
    private readonly Task _working;
    private LinkNews _news = LinkNews.None;

    /// <summary>Takes over an open line.</summary>
    /// <param name="inner">The line; it is closed with this link.</param>
    /// <param name="settings">How the device speaks; they must be in order.</param>
    /// <param name="time">For stamps and waits.</param>
    /// <exception cref="ArgumentException">The settings are not in order; the message says what is wrong.</exception>
    public PlainDeviceLink(IRigLink inner, PlainDeviceSettings settings, TimeProvider? time = null)
    {
        if (settings.Problems() is { Count: > 0 } problems) throw new ArgumentException(string.Join("; ", problems), nameof(settings));
        _inner = inner;
        _settings = settings;
        _time = time ?? TimeProvider.System;
        bool saysWhoItIs = settings.Query is { Identify: true };
        // Any number that differs from the last start's; the clock gives one without another source of chance.
        var boot = (uint)(_time.GetUtcNow().Ticks / 1_000);
        _device = new PlainDevice(
            settings.Format, saysWhoItIs ? null : PlainDeviceIdentity.Of(settings.Name), settings.Query is not null, boot, Send);
        _asker = settings.Query is { } query ? new InstrumentAsker(inner, query, _time, Post) : null;
        inner.Closed.ContinueWith(
            _ =>
            {
                _ended.Cancel();
                _toHost.Writer.CancelPendingFlush();
            },
            CancellationToken.None,
            TaskContinuationOptions.ExecuteSynchronously,
            TaskScheduler.Default);
        _working = Task.WhenAll(
            Task.Run(WorkAsync), Task.Run(ReadAsync), Task.Run(KeepTimeAsync), Task.Run(() => _asker?.RunAsync(_ended.Token) ?? Task.CompletedTask));
    }

    /// <inheritdoc/>
    public string Name => _settings.Query is null ? RigText.PrintsNumbers(_inner.Name) : RigText.IsAsked(_inner.Name);

    /// <inheritdoc/>
    public PipeReader Input => _toHost.Reader;

    /// <inheritdoc/>
    public Task<LinkEnd> Closed => _inner.Closed;

    /// <inheritdoc/>
    public LinkNews News => Volatile.Read(ref _news);

    /// <inheritdoc/>
    public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes)
    {
        if (Closed.IsCompleted) throw new IOException((await Closed.ConfigureAwait(false)).Message);
        lock (_decoding)
        {
            ReadOnlySpan<byte> rest = bytes.Span;
            while (_commands.TryRead(ref rest, out ReadOnlySpan<byte> payload))
                _happenings.Writer.TryWrite(new Happening(HappeningKind.Command, Now) { Payload = payload.ToArray() });
        }
    }

    /// <inheritdoc/>
    public void Close(LinkEnd reason) => _inner.Close(reason);

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        Close(new LinkEnd(LinkEndKind.ClosedHere, RigText.WasClosed(Name)));
        await _inner.DisposeAsync().ConfigureAwait(false);
        await Task.WhenAny(_working, Task.Delay(LinkTimes.DisposeMax)).ConfigureAwait(false);
    }

    private long Now => (long)_time.GetElapsedTime(0, _time.GetTimestamp()).TotalMicroseconds;

    private ValueTask Post(Happening happening) => _happenings.Writer.WriteAsync(happening, _ended.Token);

    private void Send(ReadOnlyMemory<byte> frame) => _toHost.Writer.Write(frame.Span);

    /// <summary>The one owner of the device's state.</summary>
    private async Task WorkAsync()
    {
        string went = RigText.WentAway(Name);
        try
        {
            await foreach (Happening happening in _happenings.Reader.ReadAllAsync(_ended.Token).ConfigureAwait(false))
            {
                Take(happening);
                FlushResult flushed = await _toHost.Writer.FlushAsync(CancellationToken.None).ConfigureAwait(false);
                if (flushed.IsCompleted || flushed.IsCanceled) break;
            }
        }
        catch (OperationCanceledException)
        {
            // The line has ended.
        }
        catch (Exception e)
        {
            // Whatever went wrong here, the loop above must hear of the end of the link.
            went = RigText.WentAwayBecause(Name, $"{e.Message}.");
        }

        _inner.Close(new LinkEnd(LinkEndKind.Vanished, went));
        await _toHost.Writer.CompleteAsync().ConfigureAwait(false);
    }

    private void Take(Happening happening)
    {
        switch (happening.Kind)
        {
            case HappeningKind.Command:
                _device.TakeCommand(happening.Payload, Now);
                break;
            case HappeningKind.Bytes:
                _device.Tally.AddBytes(happening.Count, happening.WithoutEnd);
                break;
            case HappeningKind.Line:
                _device.TakeLine(happening.Line, happening.At);
                break;
            case HappeningKind.Answer:
                _device.TakeAnswer(happening.Line, happening.Asked, happening.At);
                break;
            case HappeningKind.Identity:
                _device.Identify(PlainDeviceIdentity.Of(happening.Line.Text));
                break;
            case HappeningKind.Unanswered:
                _device.Tally.AddUnanswered();
                break;
            case HappeningKind.Unasked:
                _device.Tally.AddUnasked();
                break;
            default:
                _device.TellState(Now);
                Volatile.Write(ref _news, _device.News(Now));
                break;
        }
    }

    private async Task ReadAsync()
    {
        var cutter = new LineCutter(startsWhole: _asker is not null);
        var lines = new List<CutLine>();
        try
        {
            while (true)
            {
                ReadResult read = await _inner.Input.ReadAsync().ConfigureAwait(false);
                long arrived = Now;
                foreach (ReadOnlyMemory<byte> piece in read.Buffer) Cut(cutter, piece.Span, lines);
                long count = read.Buffer.Length;
                _inner.Input.AdvanceTo(read.Buffer.End);
                await Post(new Happening(HappeningKind.Bytes, arrived) { Count = (int)count, WithoutEnd = cutter.BytesWithoutEnd }).ConfigureAwait(false);
                foreach (CutLine line in lines)
                {
                    if (_asker is not null) _asker.Answered(line, arrived);
                    else await Post(new Happening(HappeningKind.Line, arrived) { Line = line }).ConfigureAwait(false);
                }

                lines.Clear();
                if (read.IsCompleted) break;
            }
        }
        catch (OperationCanceledException)
        {
            // The link was closed on this side.
        }
        catch (Exception e)
        {
            // Whatever a line throws, its end must be told.
            _inner.Close(new LinkEnd(LinkEndKind.Vanished, RigText.WentAwayBecause(Name, e.Message)));
        }

        _happenings.Writer.TryComplete();
    }

    private static void Cut(LineCutter cutter, ReadOnlySpan<byte> bytes, List<CutLine> lines)
    {
        while (cutter.TryRead(ref bytes, out CutLine line)) lines.Add(line);
    }

    private async Task KeepTimeAsync()
    {
        using var timer = new PeriodicTimer(PlainDevice.StateInterval, _time);
        try
        {
            while (await timer.WaitForNextTickAsync(_ended.Token).ConfigureAwait(false))
                _happenings.Writer.TryWrite(new Happening(HappeningKind.Tick, Now));
        }
        catch (OperationCanceledException)
        {
            // The link has ended.
        }
    }
}

/// <summary>What reaches the task that owns a plain device's state.</summary>
internal enum HappeningKind
{
    Tick,
    Bytes,
    Line,
    Answer,
    Identity,
    Unanswered,
    Unasked,
    Command,
}

/// <summary>One of them.</summary>
/// <param name="Kind">Which.</param>
/// <param name="At">When, in microseconds of the host's monotonic clock.</param>
internal readonly record struct Happening(HappeningKind Kind, long At)
{
    public CutLine Line { get; init; }

    public long Asked { get; init; }

    public int Count { get; init; }

    public long WithoutEnd { get; init; }

    public byte[]? Payload { get; init; }
}

/// <summary>Opens a line and reads a plain device from it.</summary>
/// <param name="inner">Opens the line.</param>
/// <param name="settings">How the device speaks.</param>
/// <param name="time">For stamps and waits; the system's where null.</param>
public sealed class PlainDeviceLinkOpener(IRigLinkOpener inner, PlainDeviceSettings settings, TimeProvider? time = null) : IRigLinkOpener
{
    /// <inheritdoc/>
    public string Name => inner.Name;

    /// <inheritdoc/>
    public async ValueTask<IRigLink> OpenAsync(CancellationToken cancellation) =>
        new PlainDeviceLink(await inner.OpenAsync(cancellation).ConfigureAwait(false), settings, time);
}
