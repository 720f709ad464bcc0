namespace RigDaq.Rig.PlainDevices;

/// <summary>What a printed time turned out to be.</summary>
internal enum PrintedTime
{
    /// <summary>It goes on from the one before.</summary>
    Good,

    /// <summary>It does not fit; the line is not to be believed.</summary>
    Implausible,

    /// <summary>The device counts from elsewhere: it has restarted.</summary>
    Restarted,
}

/// <summary>Makes rising microseconds of the time that a device prints. A count of 32 bits may wrap. A time that jumps, against what has
/// passed here, is taken for a damaged line; so many in a row that agree with each other are a device that has restarted.</summary>
internal sealed class PrintedClock(LineTimeUnit unit)
{
    /// <summary>So many lines in a row that jump alike are a restart.</summary>
    public const int AgreeingLines = 3;

    /// <summary>How far the device's time may run off the time that has passed here, in seconds.</summary>
    public const double JumpSecondsMax = 5;

    /// <summary>The share of the time passed by which it may, besides: a resonator instead of a crystal is off by 1 %.</summary>
    public const double DriftShareMax = 0.05;

    private const double WrapUnits = 4294967296.0;

    private readonly double _unitMicroseconds = new LineFormat { TimeUnit = unit }.TimeUnitMicroseconds;
    private bool _started;
    private double _last;
    private double _turns;
    private long _lastArrived;
    private int _agreeing;
    private double _odd;
    private long _oddArrived;
    private int _decimals;
    private double _period;

    /// <summary>The step of the printed time in microseconds: the last digit of seconds, one unit otherwise.</summary>
    public double StepMicroseconds => _unitMicroseconds * Math.Pow(10, -_decimals);

    /// <summary>The mean interval in microseconds; null before any.</summary>
    public double? PeriodMicroseconds => _period > 0 ? _period : null;

    /// <summary>Takes the next printed time.</summary>
    /// <param name="units">As printed.</param>
    /// <param name="decimals">Digits behind its point.</param>
    /// <param name="arrived">When it arrived, in microseconds of the host's monotonic clock.</param>
    /// <param name="microseconds">The time, on a scale that only rises between restarts.</param>
    public PrintedTime Take(double units, int decimals, long arrived, out long microseconds)
    {
        _decimals = Math.Max(_decimals, decimals);
        double now = units * _unitMicroseconds;
        if (!_started) return Begin(now, arrived, PrintedTime.Good, out microseconds);
        double wrap = unit == LineTimeUnit.Seconds ? 0 : WrapUnits * _unitMicroseconds;
        double passed = arrived - _lastArrived;
        if (Fits(now + _turns - _last, passed)) return Accept(now, arrived, out microseconds);
        if (wrap > 0 && Fits(now + _turns + wrap - _last, passed))
        {
            _turns += wrap;
            return Accept(now, arrived, out microseconds);
        }

        bool agrees = _agreeing > 0 && Fits(now - _odd, arrived - _oddArrived);
        _agreeing = agrees ? _agreeing + 1 : 1;
        (_odd, _oddArrived) = (now, arrived);
        if (_agreeing >= AgreeingLines) return Begin(now, arrived, PrintedTime.Restarted, out microseconds);
        microseconds = 0;
        return PrintedTime.Implausible;
    }

    private static bool Fits(double elapsed, double passed) =>
        elapsed >= 0 && Math.Abs(elapsed - passed) <= (JumpSecondsMax * 1e6) + (DriftShareMax * passed);

    private PrintedTime Begin(double now, long arrived, PrintedTime how, out long microseconds)
    {
        _started = true;
        _turns = _agreeing = 0;
        _period = 0;
        _last = now;
        _lastArrived = arrived;
        microseconds = (long)Math.Round(now);
        return how;
    }

    private PrintedTime Accept(double now, long arrived, out long microseconds)
    {
        double interval = now + _turns - _last;
        _period = _period > 0 ? _period + ((interval - _period) / 64) : interval;
        _last = now + _turns;
        _lastArrived = arrived;
        _agreeing = 0;
        microseconds = (long)Math.Round(_last);
        return PrintedTime.Good;
    }
}
