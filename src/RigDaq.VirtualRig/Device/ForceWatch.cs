namespace RigDaq.Virtual.Device;

/// <summary>Holds the force limits during motion, and the way back: a rig that was stopped by its force must be able to let go
/// (PROTOCOL.md, 8 and 10). Two conversions in a row say whether the force is beyond: one alone can be a wild reading.</summary>
internal sealed class ForceWatch(DeviceContext device)
{
    /// <summary>On the way back the force may exceed what it was by this share of the span of the limits.</summary>
    private const int WayBackShare = 32;

    private const int BeyondEach = 2;
    private const int BeyondMax = 4;

    private int _beyond;
    private int _weight;
    private int _reachedDirection;
    private int? _wayBackFrom;

    /// <summary>−1 below the limits, 1 above them, 0 inside, as the last two conversions that agreed say.</summary>
    public int Beyond
    {
        get
        {
            if (device.Limits is null) return 0;
            int last = SideOf(device.LatestCounts), before = SideOf(device.CountsBefore);
            if ((last == 0) == (before == 0)) _beyond = last;
            return _beyond;
        }
    }

    /// <summary>Whether a motion in this direction may begin as the force is now.</summary>
    public bool Allows(int direction)
    {
        int beyond = Beyond;
        if (beyond == 0) return true;
        // Reached at standstill, nobody knows by which way: too much tension is let go by closing, compression by opening.
        int reached = _reachedDirection == 0 ? beyond : _reachedDirection;
        return direction == -reached;
    }

    /// <summary>A motion begins.</summary>
    /// <param name="replaces">Whether it replaces one that is under way: then it begins no new way back.</param>
    public void Begin(bool replaces)
    {
        int beyond = Beyond;
        if (replaces && _wayBackFrom is not null && beyond != 0) return;
        int[] there = [.. new[] { device.LatestCounts, device.CountsBefore }.Where(counts => SideOf(counts) == beyond)];
        // The nearer to the limits, so that a wild one frees nothing.
        _wayBackFrom = beyond == 0 ? null : there.Length == 0 ? device.LatestCounts : beyond > 0 ? there.Min() : there.Max();
    }

    /// <summary>A conversion came during motion.</summary>
    /// <param name="direction">The direction of the motion.</param>
    /// <returns>True where the limit is broken: stop at once.</returns>
    public bool IsBroken(int direction)
    {
        if (Beyond == 0)
        {
            _wayBackFrom = null;
            _reachedDirection = 0;
            return _weight == BeyondMax;
        }

        if (_wayBackFrom is { } start) return IsTooFar(device.LatestCounts, start) && IsTooFar(device.CountsBefore, start);
        _reachedDirection = direction;
        return true;
    }

    /// <summary>The limits are others: what was beyond those before says nothing of these.</summary>
    public void LimitsSet() => _weight = 0;

    /// <summary>A restart.</summary>
    public void Clear()
    {
        _beyond = 0;
        _weight = 0;
        _reachedDirection = 0;
        _wayBackFrom = null;
    }

    /// <summary>A conversion came, moving or not: beyond the limits weighs two, within takes one off, so that every second one is an
    /// overload too.</summary>
    public void Weigh() => _weight = SideOf(device.LatestCounts) != 0 ? Math.Min(_weight + BeyondEach, BeyondMax)
        : Math.Max(_weight - 1, 0);

    private int SideOf(int counts) => device.Limits is not { } limits ? 0
        : counts > limits.ForceCountsMax ? 1
        : counts < limits.ForceCountsMin ? -1 : 0;

    private bool IsTooFar(int counts, int start)
    {
        if (SideOf(counts) == 0 || device.Limits is not { } limits) return false;
        long span = (long)limits.ForceCountsMax - limits.ForceCountsMin;
        return _beyond * ((long)counts - start) > span / WayBackShare;
    }
}
