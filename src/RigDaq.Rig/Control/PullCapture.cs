using System.Buffers;
using System.Threading.Channels;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;

namespace RigDaq.Rig.Control;

/// <summary>Writes the capture of one pull on a thread of its own, then has its run recorded. The control loop only hands samples over;
/// where the disk is so slow that its bounded queue is full, it is told at once.</summary>
internal sealed class PullCapture(ICaptureJournal journal, PullHead head)
{
    /// <summary>How many chunks may wait for the disk; at 10,000 samples/s and a channel as fast two to three seconds.</summary>
    public const int ChunksMax = 1_024;

    private readonly Channel<Chunk> _queue =
        Channel.CreateBounded<Chunk>(new BoundedChannelOptions(ChunksMax) { SingleReader = true, SingleWriter = true });

    private ICaptureWriter? _writer;
    private Task _writing = Task.CompletedTask;
    private long _handedOver;
    private long _workedOff;

    /// <summary>Whether nothing of what was handed over waits for the disk.</summary>
    public bool HasWritten => Interlocked.Read(ref _workedOff) == Interlocked.Read(ref _handedOver) || _writer is null;

    /// <summary>Creates the capture; its head is on the disk when this completes.</summary>
    /// <param name="lost">Called, on any thread, when a later write fails.</param>
    /// <exception cref="IOException">It could not be created.</exception>
    public async Task BeginAsync(Action<string> lost)
    {
        _writer = await Task.Run(() => journal.Begin(head)).ConfigureAwait(false);
        _writing = Task.Run(() => WriteAsync(lost));
    }

    /// <summary>Hands samples over. False where the queue is full.</summary>
    public bool TryAppend(ReadOnlySpan<RawSample> samples)
    {
        if (samples.IsEmpty) return true;
        RawSample[] chunk = ArrayPool<RawSample>.Shared.Rent(samples.Length);
        samples.CopyTo(chunk);
        if (Hand(new Chunk(chunk, null, 0, samples.Length))) return true;
        ArrayPool<RawSample>.Shared.Return(chunk);
        return false;
    }

    /// <summary>Hands values of a channel over. False where the queue is full.</summary>
    public bool TryAppend(int channel, ReadOnlySpan<ChannelSample> values)
    {
        if (values.IsEmpty) return true;
        ChannelSample[] chunk = ArrayPool<ChannelSample>.Shared.Rent(values.Length);
        values.CopyTo(chunk);
        if (Hand(new Chunk(null, chunk, channel, values.Length))) return true;
        ArrayPool<ChannelSample>.Shared.Return(chunk);
        return false;
    }

    /// <summary>Writes what waits and closes the capture with its ending. A disk that fails here is no reason not to record.</summary>
    public async Task CompleteAsync(PullRecord record)
    {
        _queue.Writer.TryComplete();
        await _writing.ConfigureAwait(false);
        if (_writer is not { } writer) return;
        await Task.Run(() =>
        {
            using (writer) writer.Complete(record);
        }).ConfigureAwait(false);
    }

    private bool Hand(in Chunk chunk)
    {
        if (!_queue.Writer.TryWrite(chunk)) return false;
        Interlocked.Increment(ref _handedOver);
        return true;
    }

    private async Task WriteAsync(Action<string> lost)
    {
        bool failed = false;
        await foreach (Chunk chunk in _queue.Reader.ReadAllAsync().ConfigureAwait(false))
        {
            try
            {
                if (!failed) Write(chunk);
            }
            catch (Exception e)
            {
                // Whatever the disk throws, the pull must be stopped rather than go on unkept.
                failed = true;
                lost(e.Message);
            }

            if (chunk.Samples is { } samples) ArrayPool<RawSample>.Shared.Return(samples);
            if (chunk.Values is { } values) ArrayPool<ChannelSample>.Shared.Return(values);
            Interlocked.Increment(ref _workedOff);
        }
    }

    private void Write(in Chunk chunk)
    {
        if (chunk.Samples is { } samples) _writer?.Append(samples.AsSpan(0, chunk.Count));
        if (chunk.Values is { } values) _writer?.AppendChannel(chunk.Channel, values.AsSpan(0, chunk.Count));
    }

    /// <summary>Samples, or values of a channel, on their way to the disk.</summary>
    private readonly record struct Chunk(RawSample[]? Samples, ChannelSample[]? Values, int Channel, int Count);
}
