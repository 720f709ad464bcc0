namespace RigDaq.Core.Signal;

/// <summary>
/// Says at which host time the device took a sample. A packet can come late but never early, so of each few seconds only the promptest
/// arrival counts, and a robust line (Theil 1950, Sen 1968: the median of all slopes) goes through those: late packets move nothing, and a
/// crystal that is off or drifts is followed. Add one pair a block. Allocates nothing after construction. Not thread-safe.
/// </summary>
public sealed class SampleClock
{
    /// <summary>Of each such span only the promptest arrival counts.</summary>
    public const long SpanMicroseconds = 5_000_000;

    /// <summary>How many spans the line looks back on: five minutes.</summary>
    public const int SpansMax = 60;

    /// <summary>Crystals are never farther off than this; a steeper line is an accident of few points. In parts per million.</summary>
    public const double DeviationPartsPerMillionMax = 500;

    // Off the line by more than this, span after span, a clock was set or the host slept: start afresh. Early arrivals can be
    // nothing else; late ones may be a long jam and are given a minute.
    private const double StepMicroseconds = 500_000;
    private const int EarlySpansMax = 3;
    private const int LateSpansMax = 12;

    // Fewer points a few seconds apart tell more about latencies than about crystals.
    private const int SlopeSpansMin = 3;

    private readonly double[] _device = new double[SpansMax];
    private readonly double[] _late = new double[SpansMax];
    private readonly double[] _slopes = new double[SpansMax * (SpansMax - 1) / 2];
    private readonly double[] _offsets = new double[SpansMax];
    private int _count;
    private int _next;
    private long _originDevice;
    private long _originHost;
    private bool _started;
    private double _spanStart;
    private double _bestDevice;
    private double _bestLate = double.PositiveInfinity;
    private double _slope;
    private double _offset;
    private double _middle;
    private int _offLine;

    /// <summary>By how much the device's clock runs slower than the host's, in parts per million; 0 until it is known.</summary>
    public double DeviationPartsPerMillion => _slope * 1e6;

    /// <summary>How often the line was started afresh because a clock had been set.</summary>
    public int Restarts { get; private set; }

    /// <summary>Takes the stamp of a block's last sample and the time it arrived.</summary>
    /// <param name="deviceMicroseconds">Unwrapped.</param>
    /// <param name="hostMicroseconds">On the host's monotonic clock.</param>
    public void Add(long deviceMicroseconds, long hostMicroseconds)
    {
        if (!_started) Start(deviceMicroseconds, hostMicroseconds);
        double device = deviceMicroseconds - _originDevice;
        double late = hostMicroseconds - _originHost - device;
        if (device - _spanStart >= SpanMicroseconds) CloseSpan(device);
        double aboveLine = late - (_slope * (device - _middle));
        if (aboveLine < _bestLate - (_slope * (_bestDevice - _middle)))
        {
            _bestLate = late;
            _bestDevice = device;
        }

        // Until there is a line the promptest arrival alone is it.
        if (_count == 0) (_offset, _middle, _slope) = (_bestLate, _bestDevice, 0);
    }

    /// <summary>The host's time at a device time.</summary>
    /// <param name="deviceMicroseconds">Unwrapped, on the same scale as the ones added.</param>
    /// <returns>In microseconds of the host's monotonic clock; before any pair, the device's own.</returns>
    public long HostMicroseconds(long deviceMicroseconds)
    {
        double device = deviceMicroseconds - _originDevice;
        return _originHost + (deviceMicroseconds - _originDevice) + (long)Math.Round(_offset + (_slope * (device - _middle)));
    }

    private void Start(long deviceMicroseconds, long hostMicroseconds)
    {
        _started = true;
        _originDevice = deviceMicroseconds;
        _originHost = hostMicroseconds;
        _count = _next = _offLine = 0;
        _spanStart = 0;
        _bestLate = double.PositiveInfinity;
        _bestDevice = _offset = _slope = _middle = 0;
    }

    private void CloseSpan(double device)
    {
        _spanStart = device - (device % SpanMicroseconds);
        if (double.IsPositiveInfinity(_bestLate)) return;
        double above = _count == 0 ? 0 : _bestLate - _offset - (_slope * (_bestDevice - _middle));
        _offLine = Math.Abs(above) > StepMicroseconds ? _offLine + 1 : 0;
        if (_offLine >= (above < 0 ? EarlySpansMax : LateSpansMax))
        {
            _count = _next = _offLine = 0;
            _slope = 0;
            Restarts++;
        }

        if (_offLine > 0)
        {
            _bestLate = double.PositiveInfinity;
            return;
        }

        _device[_next] = _bestDevice;
        _late[_next] = _bestLate;
        _next = (_next + 1) % SpansMax;
        _count = Math.Min(_count + 1, SpansMax);
        FitLine();
        _bestLate = double.PositiveInfinity;
    }

    private void FitLine()
    {
        int slopes = 0;
        double sum = 0;
        for (int i = 0; i < _count; i++)
        {
            sum += _device[i];
            for (int j = i + 1; j < _count; j++)
            {
                double apart = _device[j] - _device[i];
                if (apart != 0) _slopes[slopes++] = (_late[j] - _late[i]) / apart;
            }
        }

        _middle = sum / _count;
        Array.Sort(_slopes, 0, slopes);
        double limit = DeviationPartsPerMillionMax / 1e6;
        _slope = _count < SlopeSpansMin ? 0 : Math.Clamp(_slopes[slopes / 2], -limit, limit);
        for (int i = 0; i < _count; i++) _offsets[i] = _late[i] - (_slope * (_device[i] - _middle));
        Array.Sort(_offsets, 0, _count);

        // Arrival is never early: the lower quarter is nearer the truth than the middle.
        _offset = _offsets[_count / 4];
    }
}
