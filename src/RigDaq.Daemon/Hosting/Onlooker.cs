using RigDaq.Rig.Control;

namespace RigDaq.Daemon.Hosting;

/// <summary>Shows the rig's snapshots to one handler, on a task of its own: however slow the handler is, the rig does not wait for it. One
/// that throws is told to the log and shown the next one.</summary>
internal sealed class Onlooker : IAsyncDisposable
{
    /// <summary>How long ending waits for the handler.</summary>
    private static readonly TimeSpan EndMax = TimeSpan.FromSeconds(1);

    private readonly SnapshotSubscription _snapshots;
    private readonly Task _looking;

    /// <summary>Begins.</summary>
    /// <param name="rig">The rig.</param>
    /// <param name="snapshotsMax">How many snapshots may wait; 1 shows the newest only.</param>
    /// <param name="show">The handler; called one at a time.</param>
    /// <param name="failed">Told what it threw.</param>
    public Onlooker(RigController rig, int snapshotsMax, Action<RigSnapshot> show, Action<Exception> failed)
    {
        _snapshots = rig.SubscribeSnapshots(snapshotsMax);
        _looking = Task.Run(() => LookAsync(show, failed));
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        _snapshots.Dispose();
        await Task.WhenAny(_looking, Task.Delay(EndMax)).ConfigureAwait(false);
    }

    private async Task LookAsync(Action<RigSnapshot> show, Action<Exception> failed)
    {
        await foreach (RigSnapshot snapshot in _snapshots.Snapshots.ReadAllAsync().ConfigureAwait(false))
        {
            try
            {
                show(snapshot);
            }
            catch (Exception e)
            {
                // A faulty onlooker sees the next one; nobody else is touched.
                failed(e);
            }
        }
    }
}
