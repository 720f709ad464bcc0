namespace RigDaq.Web.Live;

/// <summary>So many places for pages, taken and given back. Safe for several threads.</summary>
/// <param name="most">How many there are.</param>
internal sealed class SocketPlaces(int most)
{
    private int _taken;

    /// <summary>How many there are.</summary>
    public int Most => most;

    /// <summary>Takes one; false where there is none.</summary>
    public bool TryTake()
    {
        if (Interlocked.Increment(ref _taken) <= most) return true;
        Interlocked.Decrement(ref _taken);
        return false;
    }

    /// <summary>Gives one back.</summary>
    public void GiveBack() => Interlocked.Decrement(ref _taken);
}
