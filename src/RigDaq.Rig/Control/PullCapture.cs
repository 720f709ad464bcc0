using System.Buffers;
using System.Threading.Channels;
using RigDaq.Core.Signal;
using RigDaq.Core.Strength;

namespace RigDaq.Rig.Control;

/// <summary>
/// Writes the capture of one pull on a thread of its own, then has its run recorded. The control loop only hands samples over;
/// where the disk is so slow that its bounded queue is full, it is told at once.
/// </summary>
internal sealed class PullCapture(ICaptureJournal journal, PullHead head)
{
    /// <summary>How many chunks may wait for the disk; at 4,000 samples/s two to three seconds.</summary>
    public const int ChunksMax = 256;

    private readonly Channel<(RawSample[] Samples, int Count)> _queue =
        Channel.CreateBounded<(RawSample[], int)>(new BoundedChannelOptions(ChunksMax) { SingleReader = true, SingleWriter = true });

    private ICaptureWriter? _writer;
    private Task _writing = Task.CompletedTask;

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
        if (_queue.Writer.TryWrite((chunk, samples.Length))) return true;
        ArrayPool<RawSample>.Shared.Return(chunk);
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

    private async Task WriteAsync(Action<string> lost)
    {
        bool failed = false;
        await foreach ((RawSample[] samples, int count) in _queue.Reader.ReadAllAsync().ConfigureAwait(false))
        {
            try
            {
                if (!failed) _writer?.Append(samples.AsSpan(0, count));
            }
            catch (Exception e)
            {
                // Whatever the disk throws, the pull must be stopped rather than go on unkept.
                failed = true;
                lost(e.Message);
            }

            ArrayPool<RawSample>.Shared.Return(samples);
        }
    }
}
