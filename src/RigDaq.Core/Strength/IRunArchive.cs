namespace RigDaq.Core.Strength;

/// <summary>Where runs are kept. Every call is whole: what it returns is detached from the store.</summary>
public interface IRunArchive
{
    /// <summary>
    /// Keeps a run with its raw trace and what waits to be published, all or nothing; it survives a power cut when this
    /// returns. Storing the same run id again with the same content changes nothing.
    /// </summary>
    /// <exception cref="IOException">It could not be kept.</exception>
    void Store(Run run, PullRecord pull, IReadOnlyList<OutboxMessage> messages);

    /// <summary>Adds a revision of a run; the earlier ones stay.</summary>
    void Revise(Run revision, IReadOnlyList<OutboxMessage> messages);

    /// <summary>The latest revision of a run, or null.</summary>
    Run? Find(string runId);

    /// <summary>All revisions of a run, the first first.</summary>
    IReadOnlyList<Run> Revisions(string runId);

    /// <summary>The raw pull of a run, or null.</summary>
    PullRecord? FindPull(string runId);

    /// <summary>The latest revisions of a study's runs, in the order they were pulled.</summary>
    IReadOnlyList<Run> OfStudy(string studyId);

    /// <summary>The newest runs, newest first.</summary>
    IReadOnlyList<Run> Latest(int count);
}

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
