using System.Threading.Channels;

namespace RigDaq.Rig.Control;

/// <summary>Hands each snapshot to whoever looks at the rig. No code of theirs runs on the control loop: it only puts into their
/// queues.</summary>
internal sealed class SnapshotFeed
{
    private readonly Lock _gate = new();
    private SnapshotSubscription[] _subscriptions = [];
    private bool _ended;

    public SnapshotSubscription Subscribe(int snapshotsMax)
    {
        var subscription = new SnapshotSubscription(snapshotsMax, Leave);
        lock (_gate)
        {
            if (_ended) subscription.End();
            else Volatile.Write(ref _subscriptions, [.. _subscriptions, subscription]);
        }

        return subscription;
    }

    public void Offer(RigSnapshot snapshot)
    {
        foreach (SnapshotSubscription subscription in Volatile.Read(ref _subscriptions)) subscription.Offer(snapshot);
    }

    public void End()
    {
        lock (_gate)
        {
            _ended = true;
            foreach (SnapshotSubscription subscription in _subscriptions) subscription.End();
            Volatile.Write(ref _subscriptions, []);
        }
    }

    private void Leave(SnapshotSubscription subscription)
    {
        lock (_gate) Volatile.Write(ref _subscriptions, [.. _subscriptions.Where(s => s != subscription)]);
    }
}

/// <summary>One onlooker's bounded queue of snapshots. A slow one loses the oldest: the newest is always there. Disposing ends the
/// queue.</summary>
public sealed class SnapshotSubscription : IDisposable
{
    /// <summary>The longest queue.</summary>
    public const int SnapshotsMax = 256;

    private readonly Channel<RigSnapshot> _snapshots;
    private readonly Action<SnapshotSubscription> _leave;

    internal SnapshotSubscription(int snapshotsMax, Action<SnapshotSubscription> leave)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(snapshotsMax, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(snapshotsMax, SnapshotsMax);
        _leave = leave;
        _snapshots = Channel.CreateBounded<RigSnapshot>(
            new BoundedChannelOptions(snapshotsMax) { FullMode = BoundedChannelFullMode.DropOldest, SingleWriter = true });
    }

    /// <summary>The snapshots, oldest first. It completes when the subscription or the controller ends.</summary>
    public ChannelReader<RigSnapshot> Snapshots => _snapshots.Reader;

    internal void Offer(RigSnapshot snapshot) => _snapshots.Writer.TryWrite(snapshot);

    internal void End() => _snapshots.Writer.TryComplete();

    /// <inheritdoc/>
    public void Dispose()
    {
        _leave(this);
        End();
    }
}
