namespace RigDaq.Virtual.Device;

/// <summary>
/// Holds the force limits during motion, and the way back: a rig that was stopped by its force must be able to let go
/// (PROTOCOL.md, 10).
/// </summary>
internal sealed class ForceWatch(DeviceContext device)
{
    /// <summary>On the way back the force may exceed what it was by this share of the span of the limits.</summary>
    private const int WayBackShare = 32;

    private int _reachedDirection;
    private int? _wayBackFrom;

    /// <summary>−1 below the limits, 1 above them, 0 inside.</summary>
    public int Beyond => device.Limits is not { } limits ? 0
        : device.LatestCounts > limits.ForceCountsMax ? 1
        : device.LatestCounts < limits.ForceCountsMin ? -1 : 0;

    /// <summary>Whether a motion in this direction may begin as the force is now.</summary>
    public bool Allows(int direction)
    {
        if (Beyond == 0) return true;
        // Reached at standstill, nobody knows by which way: too much tension is let go by closing, compression by opening.
        int reached = _reachedDirection == 0 ? Beyond : _reachedDirection;
        return direction == -reached;
    }

    /// <summary>A motion begins.</summary>
    public void Begin() => _wayBackFrom = Beyond == 0 ? null : device.LatestCounts;

    /// <summary>A conversion came during motion.</summary>
    /// <param name="direction">The direction of the motion.</param>
    /// <returns>True where the limit is broken: stop at once.</returns>
    public bool IsBroken(int direction)
    {
        int beyond = Beyond;
        if (beyond == 0)
        {
            _wayBackFrom = null;
            _reachedDirection = 0;
            return false;
        }

        if (_wayBackFrom is { } start && device.Limits is { } limits)
        {
            long span = (long)limits.ForceCountsMax - limits.ForceCountsMin;
            if (beyond * ((long)device.LatestCounts - start) <= span / WayBackShare) return false;
        }
        else
        {
            _reachedDirection = direction;
        }

        return true;
    }

    /// <summary>A restart.</summary>
    public void Clear()
    {
        _reachedDirection = 0;
        _wayBackFrom = null;
    }
}
