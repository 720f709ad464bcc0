namespace RigDaq.Core.Signal;

/// <summary>A sample after the test for spikes.</summary>
/// <param name="Index">Which sample it was, from 0 in the order of adding.</param>
/// <param name="TimeSeconds">Its time.</param>
/// <param name="Value">Its value, unchanged.</param>
/// <param name="IsSpike">Whether it is to be left out. It is kept, marked, never altered.</param>
public readonly record struct DespikedSample(long Index, double TimeSeconds, double Value, bool IsSpike);

/// <summary>
/// Finds single wild conversions, common with converters that are clocked by hand, in a stream of counts or of forces. A sample
/// is one only if it departs from both neighbours in the same sense, by more than noise and slope explain, and both neighbours
/// lie on one ramp; the first sample after a break never does. A conversion that was read several times (equal values in a row)
/// counts as one sample. Look-ahead: one conversion, at most <see cref="RepeatsMax"/> samples. Allocates nothing after
/// construction. Not thread-safe.
/// </summary>
public sealed class Despiker
{
    /// <summary>How often one conversion may be read before its value is believed, in samples.</summary>
    public const int RepeatsMax = 4;

    /// <summary>A spike departs by more than this many standard deviations of the noise from both neighbours.</summary>
    public const double DepartureNoises = 8;

    // Spikes smaller than this many typical steps between samples hide in the slope; a sharp smooth peak must not go.
    private const double DepartureSteps = 3;

    // What the neighbours may differ by beyond noise and slope, as a share of the spike's height.
    private const double AcrossShare = 0.15;

    private readonly double _allowance;
    private readonly double[] _times = new double[RepeatsMax];
    private readonly DespikedSample[] _ready = new DespikedSample[RepeatsMax + 2];
    private int _readyHead;
    private int _readyCount;
    private int _pending;
    private double _pendingValue;
    private double _kept;
    private double _step1, _step2, _step3;
    private bool _hasKept;
    private bool _believed;
    private long _count;

    /// <summary>Makes a filter.</summary>
    /// <param name="noise">The standard deviation of the noise in the units of the values, 0 or more; not finite counts as 0.</param>
    public Despiker(double noise) => _allowance = double.IsFinite(noise) && noise > 0 ? DepartureNoises * noise : 0;

    /// <summary>How many samples were spikes so far.</summary>
    public int Removed { get; private set; }

    /// <summary>Takes one sample; then take what is ready until <see cref="TryTake"/> gives nothing more.</summary>
    /// <param name="timeSeconds">Its time.</param>
    /// <param name="value">Finite; the caller leaves out what is not.</param>
    public void Add(double timeSeconds, double value)
    {
        if (_pending > 0 && value == _pendingValue)
        {
            if (_pending == RepeatsMax)
            {
                Release(isSpike: false);
                _believed = true;
            }

            Hold(timeSeconds, value);
            if (_believed) Release(isSpike: false);
            return;
        }

        if (_believed && value == _kept)
        {
            Hold(timeSeconds, value);
            Release(isSpike: false);
            return;
        }

        _believed = false;
        if (_pending > 0) Release(isSpike: _hasKept && IsSpike(_kept, _pendingValue, value));
        Hold(timeSeconds, value);
    }

    /// <summary>Nothing follows: what waits for its neighbour is let go as it is.</summary>
    public void Flush()
    {
        if (_pending > 0) Release(isSpike: false);
    }

    /// <summary>The next sample that has been judged, in the order of adding.</summary>
    public bool TryTake(out DespikedSample sample)
    {
        if (_readyCount == 0)
        {
            sample = default;
            return false;
        }

        sample = _ready[_readyHead];
        _readyHead = Place(1);
        _readyCount--;
        return true;
    }

    private void Hold(double timeSeconds, double value)
    {
        _times[_pending++] = timeSeconds;
        _pendingValue = value;
    }

    private void Release(bool isSpike)
    {
        for (int i = 0; i < _pending; i++)
        {
            // A caller that never takes loses the oldest rather than growing without limit.
            if (_readyCount == _ready.Length)
            {
                _readyHead = Place(1);
                _readyCount--;
            }

            _ready[Place(_readyCount++)] = new DespikedSample(_count++, _times[i], _pendingValue, isSpike);
        }

        if (isSpike)
        {
            Removed += _pending;
        }
        else
        {
            if (_hasKept && _pendingValue != _kept) (_step1, _step2, _step3) = (_pendingValue - _kept, _step1, _step2);
            _kept = _pendingValue;
            _hasKept = true;
        }

        _pending = 0;
    }

    // So far behind the oldest, round the end; a division a sample would take longer than the judging.
    private int Place(int behind)
    {
        int place = _readyHead + behind;
        return place < _ready.Length ? place : place - _ready.Length;
    }

    private bool IsSpike(double before, double value, double after)
    {
        double fromBefore = value - before;
        double fromAfter = value - after;
        if (fromBefore * fromAfter <= 0) return false;
        double departure = Math.Min(Math.Abs(fromBefore), Math.Abs(fromAfter));
        // Two of three samples of noise turn: nearly all of them are out here.
        if (departure <= _allowance) return false;
        double typicalStep = MedianOfThree(Math.Abs(_step1), Math.Abs(_step2), Math.Abs(_step3));
        if (departure <= _allowance + (DepartureSteps * typicalStep)) return false;

        // The neighbours must lie within two steps of the slope that led here; a fall goes much farther.
        double twoSteps = 2 * Math.Abs(MedianOfThree(_step1, _step2, _step3));
        return Math.Abs(after - before) <= twoSteps + Math.Max(_allowance, AcrossShare * departure);
    }

    private static double MedianOfThree(double a, double b, double c) => Math.Max(Math.Min(a, b), Math.Min(Math.Max(a, b), c));
}
