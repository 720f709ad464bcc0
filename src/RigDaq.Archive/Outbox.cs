using RigDaq.Archive.Records;
using RigDaq.Core.Runs;

namespace RigDaq.Archive;

/// <summary>What waits to be published; it shares the transaction of the run that it tells of.</summary>
public sealed class Outbox : IOutbox
{
    private readonly ArchiveOwner _owner;

    internal Outbox(ArchiveOwner owner) => _owner = owner;

    /// <inheritdoc/>
    public int Count => _owner.WaitingMessages;

    /// <inheritdoc/>
    public IReadOnlyList<(long Number, OutboxMessage Message)> Pending(int count) =>
        count <= 0 ? [] : _owner.Read(database => OutboxRows.Oldest(database, count));

    /// <inheritdoc/>
    public void Complete(long number) => _owner.CompleteMessage(number);

    /// <inheritdoc/>
    public void Reach(long number, IReadOnlyCollection<string> addressees) => _owner.ReachMessage(number, addressees);

    /// <inheritdoc/>
    public IReadOnlyDictionary<long, IReadOnlyList<string>> Reached() => _owner.Read(OutboxRows.Reached);
}
