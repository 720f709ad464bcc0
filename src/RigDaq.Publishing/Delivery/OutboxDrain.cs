using RigDaq.Core.Runs;
using RigDaq.Publishing.Messages;

namespace RigDaq.Publishing.Delivery;

/// <summary>
/// Sends what waits in the outbox, one after the other, the oldest first. A message leaves only when the broker has taken it and somebody
/// listened: an acknowledgement alone is not delivery. Where consumers are named it leaves when it has reached the session of each of them.
/// </summary>
/// <param name="outbox">What waits.</param>
/// <param name="topics">This rig's.</param>
/// <param name="consumers">The names of those who are to have every message; each has a topic of its own. None: whoever listens
/// first.</param>
internal sealed class OutboxDrain(IOutbox outbox, Topics topics, IReadOnlyList<string>? consumers = null)
{
    /// <summary>How many messages are looked at in one pass, besides those that wait for a named consumer only.</summary>
    internal const int PassMax = 64;

    /// <summary>How many messages may wait for named consumers that are away; the oldest is then given up for them.</summary>
    internal const int NamedWaitingMax = 2_000;

    private const string Anybody = "";

    private readonly IReadOnlyList<string> _named = consumers ?? [];
    private readonly Dictionary<long, HashSet<string>> _reached = [];
    private bool _isRecalled;

    /// <summary>One pass. Stops when everything was tried once.</summary>
    internal async Task<DrainResult> PassAsync(IMessageSink sink, CancellationToken cancellation)
    {
        var tally = new Tally();
        IReadOnlyList<(long Number, OutboxMessage Message)> pending;
        try
        {
            Recall();
            pending = outbox.Pending(PassMax + _reached.Count);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // Not the broker's fault: the connection stays, and where the rig stands is published all the same.
            return new DrainResult(0, 0, false, "", false) { Unreadable = e.Message };
        }

        foreach ((long number, OutboxMessage message) in pending)
        {
            cancellation.ThrowIfCancellationRequested();
            if (!_reached.TryGetValue(number, out HashSet<string>? reached)) reached = [];
            int before = reached.Count;
            foreach (string addressee in (string[])[Anybody, .. _named])
            {
                if (!reached.Contains(addressee) && await SendAsync(sink, message, addressee, tally, cancellation).ConfigureAwait(false))
                    reached.Add(addressee);
            }

            if (_named.Count == 0 ? reached.Contains(Anybody) : _named.All(reached.Contains))
            {
                outbox.Complete(number);
                _reached.Remove(number);
                tally.Delivered++;
            }
            else
            {
                if (reached.Count > 0) _reached[number] = reached;
                if (reached.Count > before) outbox.Reach(number, reached);
                tally.Kept++;
            }
        }

        int givenUp = GiveUp();
        bool more = tally.Delivered > 0 && pending.Count >= PassMax;
        return new DrainResult(tally.Delivered, tally.Kept, tally.Silent.Count > 0, tally.Refusal, more, givenUp);
    }

    /// <summary>What each had before this process was started is not sent to them again.</summary>
    private void Recall()
    {
        if (_isRecalled) return;
        foreach ((long number, IReadOnlyList<string> names) in outbox.Reached()) _reached[number] = [.. names];
        _isRecalled = true;
    }

    /// <summary>Sends it to one addressee; whether it has arrived.</summary>
    private async Task<bool> SendAsync(IMessageSink sink, OutboxMessage message, string addressee, Tally tally,
        CancellationToken cancellation)
    {
        // Nobody listens to this kind: the later ones wait behind it, so that their order is kept.
        (string Kind, string Addressee) stream = (message.Topic.Split('/', 2)[0], addressee);
        if (tally.Silent.Contains(stream)) return false;
        string topic = topics.Below(addressee == Anybody ? message.Topic : Topics.ToConsumer(addressee, message.Topic));
        PublishAnswer answer = await sink.PublishAsync(topic, message.Payload, message.Retain, cancellation).ConfigureAwait(false);
        switch (answer.Outcome)
        {
            // A retained message is kept by the broker for who comes later, so it has arrived.
            case PublishOutcome.Taken:
            case PublishOutcome.Unclaimed when message.Retain:
                return true;
            case PublishOutcome.Unclaimed:
                tally.Silent.Add(stream);
                return false;
            default:
                tally.Refusal = answer.Reason;
                return false;
        }
    }

    /// <summary>What waits for somebody who does not come must not fill the disk; it is in the archive and can be sent again.</summary>
    private int GiveUp()
    {
        int givenUp = 0;
        while (_reached.Count > NamedWaitingMax)
        {
            long oldest = _reached.Keys.Min();
            outbox.Complete(oldest);
            _reached.Remove(oldest);
            givenUp++;
        }

        return givenUp;
    }

    private sealed class Tally
    {
        public int Delivered { get; set; }
        public int Kept { get; set; }
        public string Refusal { get; set; } = "";

        /// <summary>Kinds of messages and those who do not listen to them.</summary>
        public HashSet<(string Kind, string Addressee)> Silent { get; } = [];
    }
}

/// <summary>What a pass did.</summary>
/// <param name="Delivered">Messages that arrived.</param>
/// <param name="Kept">Messages of the pass that stay.</param>
/// <param name="Unclaimed">Whether some stay because nobody listens.</param>
/// <param name="Refusal">The broker's words where it refused one; empty otherwise.</param>
/// <param name="More">Whether another pass is worth making at once.</param>
/// <param name="GivenUp">Messages that a named consumer did not come for in time.</param>
internal readonly record struct DrainResult(int Delivered, int Kept, bool Unclaimed, string Refusal, bool More, int GivenUp = 0)
{
    /// <summary>Why what waits could not be read; empty where it could.</summary>
    public string Unreadable { get; init; } = "";
}
