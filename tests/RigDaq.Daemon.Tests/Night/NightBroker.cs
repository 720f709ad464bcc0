using RigDaq.Publishing.Delivery;

namespace RigDaq.Daemon.Tests.Night;

/// <summary>A broker that is away, refuses, has no listener, or takes a message and is cut off before it can say so.</summary>
internal sealed class NightBroker(Random random) : IMessageSink
{
    /// <summary>What reached somebody, in order, doubles included.</summary>
    public List<string> Heard { get; } = [];

    /// <summary>Whether it may fail.</summary>
    public bool MayFail { get; set; } = true;

    public Task<PublishAnswer> PublishAsync(string topic, ReadOnlyMemory<byte> payload, bool retain, CancellationToken cancellation)
    {
        int what = MayFail ? random.Next(10) : 9;
        if (what == 0) throw new IOException("the broker is away");
        if (what == 1) return Task.FromResult(new PublishAnswer(PublishOutcome.Refused, "quota"));
        if (what == 2 && !retain) return Task.FromResult(new PublishAnswer(PublishOutcome.Unclaimed));
        Heard.Add(topic);
        if (what == 3) throw new IOException("cut off before the answer");
        return Task.FromResult(new PublishAnswer(PublishOutcome.Taken));
    }
}
