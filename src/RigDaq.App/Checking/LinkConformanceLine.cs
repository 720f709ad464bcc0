using System.Buffers;
using System.IO.Pipelines;
using RigDaq.App.Text;
using RigDaq.Protocol.Conformance;
using RigDaq.Rig.Links;

namespace RigDaq.App.Checking;

/// <summary>A device behind an open link, for the conformance run.</summary>
internal sealed class LinkConformanceLine(IRigLink link, TimeProvider time) : IConformanceLine
{
    private long? _began;

    /// <inheritdoc/>
    public TimeSpan Elapsed => _began is { } began ? time.GetElapsedTime(began) : TimeSpan.Zero;

    /// <inheritdoc/>
    public async ValueTask<ReadOnlyMemory<byte>> ExchangeAsync(ReadOnlyMemory<byte> toDevice, TimeSpan duration)
    {
        if (!toDevice.IsEmpty) await link.WriteAsync(toDevice).ConfigureAwait(false);
        _began ??= time.GetTimestamp();
        var arrived = new List<byte>();
        // Ends the waiting in the pipe, not the read of the port: no byte is lost.
        using ITimer end = time.CreateTimer(_ => link.Input.CancelPendingRead(), null, duration, Timeout.InfiniteTimeSpan);
        while (true)
        {
            ReadResult read = await link.Input.ReadAsync().ConfigureAwait(false);
            arrived.AddRange(read.Buffer.ToArray());
            link.Input.AdvanceTo(read.Buffer.End);
            if (read.IsCompleted) throw new IOException(AppText.CheckLineEnded);
            if (read.IsCanceled) return arrived.ToArray();
        }
    }
}
