namespace RigDaq.Core.Runs;

/// <summary>A message that waits to be published.</summary>
/// <param name="Topic">Below the root that the publisher adds.</param>
/// <param name="Payload">What is sent, as UTF-8 JSON.</param>
/// <param name="Retain">Whether the broker keeps it for who comes later.</param>
public sealed record OutboxMessage(string Topic, byte[] Payload, bool Retain);

/// <summary>What waits to be published, in order. A message leaves only when a broker has taken it.</summary>
public interface IOutbox
{
    /// <summary>The oldest messages that wait, with the number to complete each.</summary>
    IReadOnlyList<(long Number, OutboxMessage Message)> Pending(int count);

    /// <summary>A message was taken.</summary>
    void Complete(long number);

    /// <summary>Some of those who are to have a message have it; it waits on for the others. Needs not survive a power cut.</summary>
    /// <param name="number">The message.</param>
    /// <param name="addressees">All who have it by now.</param>
    void Reach(long number, IReadOnlyCollection<string> addressees);

    /// <summary>Who has what waits for others, by the messages' numbers; as it was last told, before this process, too.</summary>
    IReadOnlyDictionary<long, IReadOnlyList<string>> Reached();

    /// <summary>How many wait.</summary>
    int Count { get; }
}
