namespace RigDaq.Virtual.Physics;

/// <summary>The crosshead's motion: stretches of constant acceleration, followed exactly whatever the step of time, inside two
/// bounds.</summary>
/// <remarks>Positions in mm, positive apart. x = x0 + v·t + a·t²/2, v = v0 + a·t.</remarks>
/// <param name="positionMillimetres">Where it is set down, still.</param>
internal sealed class Crosshead(double positionMillimetres)
{
    private readonly Queue<Stretch> _stretches = new(3);
    private Stretch _now;
    private double _left;
    private double? _target;

    /// <summary>Where it is, from the lower limit switch.</summary>
    public double PositionMillimetres { get; private set; } = positionMillimetres;

    /// <summary>How fast it is, in mm/s, with its sign.</summary>
    public double SpeedMillimetresPerSecond { get; private set; }

    /// <summary>Whether it moves or is about to.</summary>
    public bool IsMoving { get; private set; }

    /// <summary>No step is made below this.</summary>
    public double LowerBoundMillimetres { get; set; } = double.NegativeInfinity;

    /// <summary>No step is made above this.</summary>
    public double UpperBoundMillimetres { get; set; } = double.PositiveInfinity;

    /// <summary>Whether the last motion ran into a bound: −1 the lower, 1 the upper, 0 none.</summary>
    public int BoundHit { get; private set; }

    /// <summary>Goes over to a speed and keeps it until told otherwise.</summary>
    public void RunAt(double speedMillimetresPerSecond, double acceleration)
    {
        Begin(null);
        double change = speedMillimetresPerSecond - SpeedMillimetresPerSecond;
        Add(Math.Abs(change) / acceleration, Math.Sign(change) * acceleration);
        if (speedMillimetresPerSecond != 0) Add(double.PositiveInfinity, 0);
        Next();
    }

    /// <summary>Goes to a position and ends there, from whatever speed it has now.</summary>
    /// <remarks>From speed s (along the way) over a peak speed p to rest: ((p² − s²) + p²)/(2a) = D, so p² = a·D + s²/2, capped by the
    /// wanted speed, with a stretch of constant speed between where it is capped.</remarks>
    public void GoTo(double targetMillimetres, double speedMillimetresPerSecond, double acceleration)
    {
        Begin(targetMillimetres);
        double speed = SpeedMillimetresPerSecond;
        double restsAt = PositionMillimetres + (speed * Math.Abs(speed) / (2 * acceleration));
        double sign = targetMillimetres >= restsAt ? 1 : -1;
        double way = sign * (targetMillimetres - PositionMillimetres);
        double start = sign * speed;
        double peak = Math.Min(speedMillimetresPerSecond, Math.Sqrt(Math.Max(0, (acceleration * way) + (start * start / 2))));
        double changing = Math.Abs((peak * peak) - (start * start)) / (2 * acceleration);
        double cruise =
            way - (start <= peak ? ((peak * peak) - (start * start)) / (2 * acceleration) : changing) - (peak * peak / (2 * acceleration));
        Add(Math.Abs(peak - start) / acceleration, sign * Math.Sign(peak - start) * acceleration);
        if (peak > 0) Add(cruise / peak, 0);
        Add(peak / acceleration, -sign * acceleration);
        Next();
    }

    /// <summary>Slows down to a stop.</summary>
    public void SlowDown(double acceleration) => RunAt(0, acceleration);

    /// <summary>Stands still from now on.</summary>
    public void StopAtOnce()
    {
        Begin(null);
        SpeedMillimetresPerSecond = 0;
        IsMoving = false;
    }

    /// <summary>Lets time pass.</summary>
    public void Advance(double seconds)
    {
        while (IsMoving && seconds > 0)
        {
            double taken = Math.Min(seconds, _left);
            PositionMillimetres += (SpeedMillimetresPerSecond * taken) + (0.5 * _now.Acceleration * taken * taken);
            SpeedMillimetresPerSecond += _now.Acceleration * taken;
            if (HoldBounds()) return;
            seconds -= taken;
            _left -= taken;
            if (_left <= 0) Next();
        }
    }

    // The motion of a step before the bound is made whole: the last step stands at the bound itself.
    private bool HoldBounds()
    {
        int hit = PositionMillimetres > UpperBoundMillimetres && SpeedMillimetresPerSecond >= 0 ? 1
            : PositionMillimetres < LowerBoundMillimetres && SpeedMillimetresPerSecond <= 0 ? -1 : 0;
        if (hit == 0) return false;
        StopAtOnce();
        PositionMillimetres = hit > 0 ? UpperBoundMillimetres : LowerBoundMillimetres;
        BoundHit = hit;
        return true;
    }

    private void Begin(double? target)
    {
        _stretches.Clear();
        _target = target;
        BoundHit = 0;
    }

    private void Add(double seconds, double acceleration)
    {
        if (seconds > 0) _stretches.Enqueue(new Stretch(seconds, acceleration));
    }

    private void Next()
    {
        IsMoving = _stretches.TryDequeue(out _now);
        _left = _now.Seconds;
        if (IsMoving) return;
        // The last bits of rounding must not add up from one motion to the next.
        SpeedMillimetresPerSecond = 0;
        if (_target is { } target) PositionMillimetres = target;
    }

    private readonly record struct Stretch(double Seconds, double Acceleration);
}
