using System.IO.Pipelines;
using System.Threading.Channels;
using RigDaq.Protocol.Frames;
using RigDaq.Rig.Links;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <summary>One received payload in a buffer that goes round; length 0 marks the end of its link.</summary>
internal sealed class FrameBuffer
{
    public byte[] Payload { get; } = new byte[FrameLimits.PayloadBytesMax];

    public int Length { get; set; }

    /// <summary>A timestamp of the time provider: when the bytes were read.</summary>
    public long ArrivedAt { get; set; }

    /// <summary>The pump it came from.</summary>
    public FramePump? From { get; set; }

    /// <summary>No frame, but a mark behind those that came before: who waits for them. Not from the pool.</summary>
    public TaskCompletionSource? CaughtUp { get; init; }
}

/// <summary>The buffers that go round between the pumps and the loop. Where none is free the pump waits, and the line with it.</summary>
internal sealed class FramePool
{
    /// <summary>How many frames may wait for the loop.</summary>
    public const int FramesMax = 512;

    private readonly Channel<FrameBuffer> _free = Channel.CreateBounded<FrameBuffer>(FramesMax);

    public FramePool()
    {
        for (int i = 0; i < FramesMax; i++) _free.Writer.TryWrite(new FrameBuffer());
    }

    public ValueTask<FrameBuffer> RentAsync() => _free.Reader.ReadAsync();

    public bool TryRent(out FrameBuffer? frame) => _free.Reader.TryRead(out frame);

    public void Return(FrameBuffer frame)
    {
        frame.From = null;
        _free.Writer.TryWrite(frame);
    }
}

/// <summary>Reads one link until it ends and hands the frames in it to the control loop, or the bytes as they come where a plain device
/// speaks no frames. It interprets nothing.</summary>
internal sealed class FramePump(IRigLink link, ControlInbox inbox, FramePool pool, TimeProvider time, PlainDeviceSettings? plain = null)
{
    private readonly FrameDecoder _decoder = new();
    private long _bytesReceived;
    private long _framesGood;
    private long _framesBad;

    public IRigLink Link => link;

    /// <summary>How the device speaks; null where it speaks the wire.</summary>
    public PlainDeviceSettings? Plain => plain;

    /// <summary>What the link leads to, for people.</summary>
    public string Name => plain is null ? link.Name : plain.Query is null ? RigText.PrintsNumbers(link.Name) : RigText.IsAsked(link.Name);

    public long BytesReceived => Interlocked.Read(ref _bytesReceived);

    public long FramesGood => Interlocked.Read(ref _framesGood);

    public long FramesBad => Interlocked.Read(ref _framesBad);

    /// <summary>Runs until the link ends; an end marker then follows the last frame.</summary>
    public async Task RunAsync()
    {
        try
        {
            while (true)
            {
                ReadResult result = await link.Input.ReadAsync().ConfigureAwait(false);
                long arrivedAt = time.GetTimestamp();
                foreach (ReadOnlyMemory<byte> piece in result.Buffer) await TakeAsync(piece, arrivedAt).ConfigureAwait(false);
                link.Input.AdvanceTo(result.Buffer.End);
                if (result.IsCompleted) break;
            }

            link.Close(new LinkEnd(LinkEndKind.Vanished, RigText.WentAway(Name)));
        }
        catch (Exception e)
        {
            // Whatever a link throws, the loop must hear of its end.
            link.Close(new LinkEnd(LinkEndKind.Vanished, RigText.WentAwayBecause(Name, e.Message)));
        }

        FrameBuffer marker = await pool.RentAsync().ConfigureAwait(false);
        marker.Length = 0;
        marker.From = this;
        inbox.PostFrame(marker);
    }

    private async ValueTask TakeAsync(ReadOnlyMemory<byte> piece, long arrivedAt)
    {
        Interlocked.Add(ref _bytesReceived, piece.Length);
        while (!piece.IsEmpty)
        {
            if (!pool.TryRent(out FrameBuffer? frame) || frame is null) frame = await pool.RentAsync().ConfigureAwait(false);
            piece = Next(piece, frame);
            if (frame.Length == 0)
            {
                pool.Return(frame);
                continue;
            }

            frame.ArrivedAt = arrivedAt;
            frame.From = this;
            inbox.PostFrame(frame);
        }
    }

    /// <summary>Fills the buffer with the next frame, or leaves it empty where the piece holds none; gives what is left.</summary>
    private ReadOnlyMemory<byte> Next(ReadOnlyMemory<byte> piece, FrameBuffer frame)
    {
        if (plain is not null)
        {
            frame.Length = Math.Min(piece.Length, frame.Payload.Length);
            piece.Span[..frame.Length].CopyTo(frame.Payload);
            return piece[frame.Length..];
        }

        ReadOnlySpan<byte> rest = piece.Span;
        bool found = _decoder.TryRead(ref rest, out ReadOnlySpan<byte> payload);
        frame.Length = found ? payload.Length : 0;
        payload.CopyTo(frame.Payload);
        Volatile.Write(ref _framesGood, _decoder.FramesGood);
        Volatile.Write(ref _framesBad, _decoder.FramesBad);
        return piece[^rest.Length..];
    }
}
