using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Rig.Control;
using RigDaq.Text;

namespace RigDaq.App.Rigs;

/// <summary>Waits for a rig to come to a state, bounded.</summary>
internal static class RigWaiting
{
    /// <summary>How many snapshots may wait to be looked at.</summary>
    private const int SnapshotsMax = 64;

    /// <summary>Goes on where a command was done.</summary>
    /// <exception cref="CannotBeDoneException">It was not, and why.</exception>
    public static void Require(this CommandResult result)
    {
        if (!result.Done) throw new CannotBeDoneException(result.Message);
    }

    /// <summary>The first snapshot for which <paramref name="condition"/> holds.</summary>
    /// <param name="rig">The rig.</param>
    /// <param name="condition">Looked at once a snapshot.</param>
    /// <param name="bound">In wall time.</param>
    /// <param name="what">What is waited for, for the message.</param>
    /// <param name="cancellation">Gives up.</param>
    /// <exception cref="CannotBeDoneException">It did not come in time.</exception>
    public static async Task<RigSnapshot> WhenAsync(this RigController rig, Func<RigSnapshot, bool> condition, TimeSpan bound,
        Sentence what, CancellationToken cancellation)
    {
        // Some in a row, so that a state which passes quickly is not missed on a busy machine.
        using SnapshotSubscription snapshots = rig.SubscribeSnapshots(SnapshotsMax);
        using var late = new CancellationTokenSource(bound);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(late.Token, cancellation);
        RigSnapshot now = rig.Snapshot;
        try
        {
            while (!condition(now)) now = await snapshots.Snapshots.ReadAsync(either.Token).ConfigureAwait(false);
            return now;
        }
        catch (Exception fault) when (fault is System.Threading.Channels.ChannelClosedException
            || (fault is OperationCanceledException && !cancellation.IsCancellationRequested))
        {
            now = rig.Snapshot;
            throw new CannotBeDoneException(AppText.RigWaited(bound.TotalSeconds, what, now.LinkMessage, now.Sequence?.Reason), fault);
        }
    }
}
