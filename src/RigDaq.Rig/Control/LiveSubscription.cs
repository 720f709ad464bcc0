using System.Threading.Channels;

namespace RigDaq.Rig.Control;

/// <summary>One consumer's bounded queue of live blocks. Where the consumer is slow the oldest blocks go, and are counted; nobody waits for
/// it. Disposing ends the queue.</summary>
public sealed class LiveSubscription : IDisposable
{
    /// <summary>The longest queue in blocks.</summary>
    public const int BlocksMax = 4_096;

    private readonly Channel<LiveBlock> _blocks;
    private readonly Action<LiveSubscription> _leave;
    private long _dropped;

    internal LiveSubscription(int blocksMax, Action<LiveSubscription> leave)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(blocksMax, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(blocksMax, BlocksMax);
        _leave = leave;
        _blocks = Channel.CreateBounded<LiveBlock>(
            new BoundedChannelOptions(blocksMax) { FullMode = BoundedChannelFullMode.DropOldest, SingleWriter = true },
            _ => Interlocked.Increment(ref _dropped));
    }

    /// <summary>The blocks, oldest first. It completes when the subscription or the controller ends.</summary>
    public ChannelReader<LiveBlock> Blocks => _blocks.Reader;

    /// <summary>Blocks that this consumer was too slow for.</summary>
    public long BlocksDropped => Interlocked.Read(ref _dropped);

    internal void Offer(LiveBlock block) => _blocks.Writer.TryWrite(block);

    internal void End() => _blocks.Writer.TryComplete();

    /// <inheritdoc/>
    public void Dispose()
    {
        _leave(this);
        End();
    }
}
