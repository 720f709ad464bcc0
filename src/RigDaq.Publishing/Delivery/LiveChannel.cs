using RigDaq.Publishing.Messages;

namespace RigDaq.Publishing.Delivery;

/// <summary>The connection for live force: nobody acknowledges it, and while the broker is slow the oldest blocks go.</summary>
internal sealed class LiveChannel(Topics topics, TimeProvider time)
{
    /// <summary>Blocks that wait: about a second.</summary>
    internal const int BlocksMax = 25;

    private static readonly TimeSpan Look = TimeSpan.FromSeconds(1);

    private readonly Nudge _nudge = new();

    internal LatestQueue<LiveMessage> Blocks { get; } = new(BlocksMax);

    internal void Add(LiveMessage block)
    {
        Blocks.Add(block);
        _nudge.Give();
    }

    /// <summary>Uses a connection until it ends.</summary>
    internal async Task RunAsync(BrokerSession session, CancellationToken ended)
    {
        while (true)
        {
            ended.ThrowIfCancellationRequested();
            while (Blocks.TryTake(out LiveMessage? block))
                await session.SendLiveAsync(topics.Live, PayloadJson.Write(block), ended).ConfigureAwait(false);

            await _nudge.WaitAsync(Look, time, ended).ConfigureAwait(false);
        }
    }
}
