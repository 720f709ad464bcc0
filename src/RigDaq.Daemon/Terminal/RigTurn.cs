namespace RigDaq.Daemon.Terminal;

/// <summary>Who of the commands in the daemon is at its rig: one at a time. Safe for several threads.</summary>
internal sealed class RigTurn
{
    private int _taken;

    /// <summary>Takes it; false where another command has it.</summary>
    public bool TryTake() => Interlocked.Exchange(ref _taken, 1) == 0;

    /// <summary>Gives it back.</summary>
    public void Leave() => Volatile.Write(ref _taken, 0);
}
