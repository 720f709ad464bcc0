using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Text;
using RigDaq.Rig.Control;

namespace RigDaq.Daemon.Hosting;

/// <summary>Waits for a rig to come to a state, bounded.</summary>
internal static class RigWaiting
{
    /// <summary>The first snapshot for which <paramref name="condition"/> holds.</summary>
    /// <param name="rig">The rig.</param>
    /// <param name="condition">Looked at once a snapshot, on the rig's control loop: must be quick.</param>
    /// <param name="bound">In wall time.</param>
    /// <param name="what">What is waited for, for the message.</param>
    /// <param name="cancellation">Gives up.</param>
    /// <exception cref="CannotBeDoneException">It did not come in time.</exception>
    public static async Task<RigSnapshot> WhenAsync(
        this RigController rig, Func<RigSnapshot, bool> condition, TimeSpan bound, string what, CancellationToken cancellation)
    {
        var reached = new TaskCompletionSource<RigSnapshot>(TaskCreationOptions.RunContinuationsAsynchronously);
        rig.SnapshotChanged += Look;
        try
        {
            Look(rig.Snapshot);
            return await reached.Task.WaitAsync(bound, cancellation).ConfigureAwait(false);
        }
        catch (TimeoutException fault)
        {
            RigSnapshot now = rig.Snapshot;
            throw new CannotBeDoneException(TerminalText.RigWaited(bound.TotalSeconds, what, now.LinkMessage, now.Sequence?.Reason), fault);
        }
        finally
        {
            rig.SnapshotChanged -= Look;
        }

        void Look(RigSnapshot snapshot)
        {
            try
            {
                if (condition(snapshot)) reached.TrySetResult(snapshot);
            }
            catch (Exception fault)
            {
                // Runs on the control loop, which must not die of a waiter's fault.
                reached.TrySetException(fault);
            }
        }
    }
}
