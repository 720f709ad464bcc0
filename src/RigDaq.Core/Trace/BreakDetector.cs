using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;

namespace RigDaq.Core.Trace;

/// <summary>
/// Tells a break from everything else while the pull runs. The force has fallen when it drops below
/// <see cref="DetectionSettings.RemainingPercent"/> of its own running maximum and the settling window closes without its
/// coming back; how long it took from 1.5 × remaining to remaining tells a break from a specimen that slid out; what is left
/// tells a whole break from a partial one. Feed it despiked forces. One pass, nothing allocated after construction; it decides
/// when the settling window closes, or, where the force is still going down then, at most <see cref="WindowsMax"/> windows
/// after the fall. A conversion that was read several times counts once. Not thread-safe. <see cref="FallFinder"/> judges afterwards by the
/// same limits; where it may differ, and why, stands there.
/// </summary>
public sealed class BreakDetector
{
    /// <summary>Contact is this many standard deviations of the noise above zero, or the preload if that is more.</summary>
    public const double ContactNoises = 10;

    /// <summary>How many samples in a row must be above contact, and how many a settling window holds at the least.</summary>
    public const int SamplesMin = 3;

    /// <summary>What is left after a whole break is at most this share of the maximum, in per cent.</summary>
    public const double NothingLeftPercent = 5;

    /// <summary>A force that is still going down when the settling window closes is waited for, this many windows in all.</summary>
    public const int WindowsMax = 4;

    // The samples of a window, the newest kept: one second at 4,000 samples/s.
    private const int WindowSamplesMax = 4096;

    // A force goes on falling where it is lower at the window's end than the window's median by more than noise, and by this share of it.
    private const double FallingNoises = 4;
    private const double FallingShare = 0.05;

    private readonly double _remaining;
    private readonly double _high;
    private readonly double _contactNewtons;
    private readonly double _noiseNewtons;
    private readonly double _fallSeconds;
    private readonly double _settlingSeconds;
    private readonly double[] _times = new double[WindowSamplesMax];
    private readonly double[] _forces = new double[WindowSamplesMax];
    private readonly double[] _sorted = new double[WindowSamplesMax];
    private RepeatedReads _reads;
    private long _windowCount;
    private double _lastTime = double.NegativeInfinity;
    private double _lastForce;
    private double _contactMaximum;
    private int _inContact;
    private int _backUp;
    private bool _highIsLast;
    private FallBands _bands;
    private int _sinceHigh;
    private double _firstTime = double.NaN;
    private long _intervals;
    private double _crossingTime;
    private double _windowEnd;
    private int _windows;
    private bool _sudden;

    /// <summary>Makes a detector for one pull.</summary>
    /// <param name="settings">How a break is told.</param>
    /// <param name="noiseNewtons">The standard deviation of the force while nothing pulls, in newtons, 0 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">A setting or the noise is outside its range.</exception>
    public BreakDetector(DetectionSettings settings, double noiseNewtons)
    {
        settings.Validate();
        if (!double.IsFinite(noiseNewtons) || noiseNewtons < 0)
            throw new ArgumentOutOfRangeException(nameof(noiseNewtons), noiseNewtons, "A finite noise of 0 N or more is needed.");
        _remaining = settings.RemainingPercent / 100;
        _high = settings.FallFromPercent / 100;
        _noiseNewtons = noiseNewtons;
        _contactNewtons = Math.Max(settings.PreloadNewtons ?? 0, ContactNoises * noiseNewtons);
        _fallSeconds = settings.FallSeconds;
        _settlingSeconds = settings.SettlingSeconds;
    }

    /// <inheritdoc/>
    public DetectorState State { get; private set; }

    /// <inheritdoc/>
    public double RunningMaximumNewtons { get; private set; }

    /// <summary>How often the force fell below its limit and came back.</summary>
    public int RecoveredFalls { get; private set; }

    /// <inheritdoc/>
    public DetectorState Add(double timeSeconds, double forceNewtons)
    {
        if (!double.IsFinite(timeSeconds) || !double.IsFinite(forceNewtons) || timeSeconds < _lastTime) return State;
        if (!_reads.Add(forceNewtons) && _reads.AreOneConversion && !_reads.StandsStill) return State;
        if (double.IsNaN(_firstTime)) _firstTime = timeSeconds;
        else _intervals++;
        switch (State)
        {
            case DetectorState.NoContact:
                WaitForContact(timeSeconds, forceNewtons);
                break;
            case DetectorState.Loading:
                Load(timeSeconds, forceNewtons);
                break;
            case DetectorState.Falling:
                Settle(timeSeconds, forceNewtons);
                break;
            default:
                return State;
        }

        _lastTime = timeSeconds;
        _lastForce = forceNewtons;
        return State;
    }

    private void WaitForContact(double time, double force)
    {
        RunningMaximumNewtons = Math.Max(RunningMaximumNewtons, force);
        if (force <= _contactNewtons)
        {
            _inContact = 0;
            _contactMaximum = 0;
            return;
        }

        _contactMaximum = Math.Max(_contactMaximum, force);
        if (++_inContact < SamplesMin) return;
        State = DetectorState.Loading;
        RunningMaximumNewtons = _contactMaximum;
        _highIsLast = true;
    }

    private void Load(double time, double force)
    {
        RunningMaximumNewtons = Math.Max(RunningMaximumNewtons, force);
        double high = _high * RunningMaximumNewtons;
        double low = _remaining * RunningMaximumNewtons;
        if (force >= high)
        {
            _highIsLast = true;
            return;
        }

        if (_highIsLast) (_bands, _sinceHigh) = (new FallBands(high, low), 0);
        _highIsLast = false;
        _sinceHigh++;
        _bands.Add(_lastTime, _lastForce, time, force);
        if (force >= low) return;
        _crossingTime = Crossing(low, time, force);

        // With at most one sample caught on its way the fall is as sudden as the rate can tell.
        double interval = _intervals > 0 ? (time - _firstTime) / _intervals : 0;
        _sudden = _sinceHigh <= FallFinder.SuddenIntervals
            || _bands.AreSudden(Math.Max(_fallSeconds, FallFinder.SuddenIntervals * interval), _noiseNewtons);
        State = DetectorState.Falling;
        _windowEnd = time + _settlingSeconds;
        _windows = 1;
        _windowCount = 0;
        _backUp = 0;
        Keep(time, force);
    }

    private void Settle(double time, double force)
    {
        Keep(time, force);
        _backUp = force >= _high * RunningMaximumNewtons ? _backUp + 1 : 0;
        if (_backUp >= SamplesMin && time - _crossingTime >= Ringing.RecoverySecondsMin)
        {
            Recover(time, force);
            return;
        }

        // The sample that crossed is not one of the three that follow it.
        if (time < _windowEnd || _windowCount <= SamplesMin) return;
        double left = MedianOfNewest(_windowEnd - (_settlingSeconds / 2), SamplesMin);
        if (left >= _remaining * RunningMaximumNewtons)
        {
            Recover(time, force);
            return;
        }

        if (!_sudden)
        {
            State = DetectorState.SlippedOut;
            return;
        }

        bool loadRemains = left > NothingLeftPercent / 100 * RunningMaximumNewtons && left > _contactNewtons;
        if (loadRemains && StillFalling(left) && _windows < WindowsMax)
        {
            _windows++;
            _windowEnd += _settlingSeconds;
            return;
        }

        State = loadRemains ? DetectorState.PartlyBroken : DetectorState.Broken;
    }

    private void Recover(double time, double force)
    {
        State = DetectorState.Loading;
        RecoveredFalls++;
        RunningMaximumNewtons = Math.Max(RunningMaximumNewtons, force);
        _highIsLast = force >= _high * RunningMaximumNewtons;
        (_bands, _sinceHigh) = (new FallBands(_high * RunningMaximumNewtons, _remaining * RunningMaximumNewtons), 0);
    }

    private void Keep(double time, double force)
    {
        int at = (int)(_windowCount++ % WindowSamplesMax);
        _times[at] = time;
        _forces[at] = force;
    }

    private bool StillFalling(double left)
    {
        double newest = MedianOfNewest(_windowEnd - (_settlingSeconds / 8), 1);
        return left - newest > Math.Max(FallingNoises * _noiseNewtons, FallingShare * left);
    }

    private double MedianOfNewest(double sinceSeconds, int samplesMin)
    {
        int available = (int)Math.Min(_windowCount, WindowSamplesMax);
        int taken = 0;
        for (; taken < available; taken++)
        {
            int at = (int)((_windowCount - 1 - taken) % WindowSamplesMax);
            if (taken >= samplesMin && _times[at] < sinceSeconds) break;
            _sorted[taken] = _forces[at];
        }

        Array.Sort(_sorted, 0, taken);
        return taken % 2 == 1 ? _sorted[taken / 2] : (_sorted[(taken / 2) - 1] + _sorted[taken / 2]) / 2;
    }

    private double Crossing(double level, double time, double force)
    {
        double fall = _lastForce - force;
        double share = fall > 0 ? Math.Clamp((_lastForce - level) / fall, 0, 1) : 1;
        return _lastTime + (share * (time - _lastTime));
    }
}
