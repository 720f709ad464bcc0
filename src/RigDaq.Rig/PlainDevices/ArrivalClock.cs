namespace RigDaq.Rig.PlainDevices;

/// <summary>
/// Makes a stamp of the time at which a line arrived. A line can come late but never early, and adapters hand over several at once,
/// so stamps go on evenly at the measured period and are moved only where a line comes before its turn, or where of some tens of
/// lines even the promptest was late. How far arrivals scatter about the stamps is the jitter that is told: whether it was the line
/// or the device that did not keep step cannot be known here.
/// </summary>
internal sealed class ArrivalClock
{
    /// <summary>The period is taken over so many arrivals.</summary>
    public const int ArrivalsMax = 256;

    /// <summary>Before so many arrivals there is no period, and a stamp is the arrival itself.</summary>
    public const int ArrivalsMin = 8;

    /// <summary>Of so many lines the promptest counts.</summary>
    public const int PromptOf = 12;

    /// <summary>A silence longer than this, and than <see cref="SilencePeriods"/> periods, begins anew.</summary>
    public const long SilenceMicroseconds = 1_000_000;

    /// <summary>See <see cref="SilenceMicroseconds"/>.</summary>
    public const int SilencePeriods = 8;

    private const double JitterWeight = 1.0 / 64;

    private readonly long[] _arrivals = new long[ArrivalsMax];
    private int _count;
    private int _next;
    private long _lastArrival;
    private double _lastStamp = double.NegativeInfinity;
    private double _promptest = double.PositiveInfinity;
    private int _sincePrompt;
    private double _meanLate;
    private double _squareLate;
    private int _lates;

    /// <summary>The period in microseconds; null before it is known.</summary>
    public double? PeriodMicroseconds { get; private set; }

    /// <summary>The standard deviation of arrivals about the stamps, in microseconds; null before it is known.</summary>
    public double? JitterMicroseconds => _lates < ArrivalsMin ? null : Math.Sqrt(Math.Max(0, _squareLate - (_meanLate * _meanLate)));

    /// <summary>The stamp of a line. Stamps rise by a microsecond at least.</summary>
    /// <param name="arrived">When it arrived, on the host's monotonic clock, in microseconds.</param>
    public long Stamp(long arrived)
    {
        if (_count > 0 && arrived - _lastArrival > Math.Max(SilenceMicroseconds, SilencePeriods * (PeriodMicroseconds ?? 0))) Restart();
        Remember(arrived);
        double stamp = PeriodMicroseconds is { } period ? Next(arrived, period) : arrived;
        stamp = Math.Max(stamp, _lastStamp + 1);
        _lastStamp = stamp;
        return (long)Math.Round(stamp);
    }

    private double Next(long arrived, double period)
    {
        double due = _lastStamp + period;
        double late = arrived - due;
        _promptest = Math.Min(_promptest, late);
        if (late < 0)
        {
            due = arrived;
            (_promptest, _sincePrompt) = (double.PositiveInfinity, 0);
        }
        else if (++_sincePrompt >= PromptOf)
        {
            due += _promptest;
            (_promptest, _sincePrompt) = (double.PositiveInfinity, 0);
        }

        double off = arrived - due;
        double weight = Math.Max(JitterWeight, 1.0 / ++_lates);
        _meanLate += weight * (off - _meanLate);
        _squareLate += weight * ((off * off) - _squareLate);
        return due;
    }

    private void Remember(long arrived)
    {
        bool full = _count == ArrivalsMax;
        long oldest = full ? _arrivals[_next] : _count > 0 ? _arrivals[0] : arrived;
        _arrivals[_next] = arrived;
        _next = (_next + 1) % ArrivalsMax;
        _lastArrival = arrived;
        int intervals = _count;
        if (!full) _count++;
        if (intervals >= ArrivalsMin - 1 && arrived > oldest) PeriodMicroseconds = (arrived - oldest) / (double)intervals;
    }

    private void Restart()
    {
        _count = _next = 0;
        PeriodMicroseconds = null;
        (_promptest, _sincePrompt) = (double.PositiveInfinity, 0);
        _lates = 0;
        _meanLate = _squareLate = 0;
    }
}
