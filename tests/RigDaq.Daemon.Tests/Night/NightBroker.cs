using RigDaq.Publishing.Delivery;

namespace RigDaq.Daemon.Tests.Night;

/// <summary>A broker that is away, refuses, has no listener, or takes a message and is cut off before it can say so.</summary>
internal sealed class NightBroker(Random random) : IMessageSink
{
    private readonly HashSet<string> _heard = [];

    /// <summary>Whether it may fail.</summary>
    public bool MayFail { get; set; } = true;

    /// <summary>Whether a run has reached somebody.</summary>
    public bool HasHeard(string runId) => _heard.Contains(runId);

    public Task<PublishAnswer> PublishAsync(string topic, ReadOnlyMemory<byte> payload, bool retain, CancellationToken cancellation)
    {
        int what = MayFail ? random.Next(10) : 9;
        if (what == 0) throw new IOException("the broker is away");
        if (what == 1) return Task.FromResult(new PublishAnswer(PublishOutcome.Refused, "quota"));
        if (what == 2 && !retain) return Task.FromResult(new PublishAnswer(PublishOutcome.Unclaimed));
        _heard.Add(topic.Split('/')[^1]);
        if (what == 3) throw new IOException("cut off before the answer");
        return Task.FromResult(new PublishAnswer(PublishOutcome.Taken));
    }
}
