using RigDaq.Core.Strength;
using RigDaq.Publishing.Messages;

namespace RigDaq.Publishing.Delivery;

/// <summary>
/// Sends what waits in the outbox, one after the other, the oldest first. A message leaves only when the broker has taken it
/// and somebody listened: an acknowledgement alone is not delivery.
/// </summary>
internal sealed class OutboxDrain(IOutbox outbox, Topics topics)
{
    /// <summary>How many messages are looked at in one pass.</summary>
    internal const int PassMax = 64;

    /// <summary>One pass. Stops when everything was tried once.</summary>
    internal async Task<DrainResult> PassAsync(IMessageSink sink, CancellationToken cancellation)
    {
        int delivered = 0, kept = 0;
        string refusal = "";
        var unclaimedKinds = new HashSet<string>(StringComparer.Ordinal);
        IReadOnlyList<(long Number, OutboxMessage Message)> pending = outbox.Pending(PassMax);
        foreach ((long number, OutboxMessage message) in pending)
        {
            cancellation.ThrowIfCancellationRequested();
            // Nobody listens to this kind: the later ones wait behind it, so that their order is kept.
            string kind = Kind(message.Topic);
            if (unclaimedKinds.Contains(kind))
            {
                kept++;
                continue;
            }

            PublishAnswer answer = await sink
                .PublishAsync(topics.Below(message.Topic), message.Payload, message.Retain, cancellation).ConfigureAwait(false);
            switch (answer.Outcome)
            {
                // A retained message is kept by the broker for who comes later, so it has arrived.
                case PublishOutcome.Taken:
                case PublishOutcome.Unclaimed when message.Retain:
                    outbox.Complete(number);
                    delivered++;
                    break;
                case PublishOutcome.Unclaimed:
                    unclaimedKinds.Add(kind);
                    kept++;
                    break;
                default:
                    refusal = answer.Reason;
                    kept++;
                    break;
            }
        }

        bool more = delivered > 0 && pending.Count == PassMax;
        return new DrainResult(delivered, kept, unclaimedKinds.Count > 0, refusal, more);
    }

    private static string Kind(string topic) => topic.Split('/', 2)[0];
}

/// <summary>What a pass did.</summary>
/// <param name="Delivered">Messages that arrived.</param>
/// <param name="Kept">Messages of the pass that stay.</param>
/// <param name="Unclaimed">Whether some stay because nobody listens.</param>
/// <param name="Refusal">The broker's words where it refused one; empty otherwise.</param>
/// <param name="More">Whether another pass is worth making at once.</param>
internal readonly record struct DrainResult(int Delivered, int Kept, bool Unclaimed, string Refusal, bool More);
