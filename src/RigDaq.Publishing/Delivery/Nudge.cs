using System.Threading.Channels;

namespace RigDaq.Publishing.Delivery;

/// <summary>Wakes one waiter; many nudges before it looks are one.</summary>
internal sealed class Nudge
{
    private readonly Channel<bool> _channel =
        Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });

    /// <summary>There is something to do.</summary>
    internal void Give() => _channel.Writer.TryWrite(true);

    /// <summary>Waits for a nudge, or for <paramref name="most"/>.</summary>
    internal async Task WaitAsync(TimeSpan most, TimeProvider time, CancellationToken cancellation)
    {
        using var late = new CancellationTokenSource(most, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(late.Token, cancellation);
        try
        {
            await _channel.Reader.ReadAsync(either.Token).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (!cancellation.IsCancellationRequested)
        {
            // The time is up: the caller looks by itself.
        }
    }
}
