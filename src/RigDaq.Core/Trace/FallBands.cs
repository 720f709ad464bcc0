namespace RigDaq.Core.Trace;

/// <summary>
/// When a falling force went down through five levels from where falls are timed to the limit: what tells a sudden fall from a slow one.
/// A specimen that breaks in steps rests between them, and a whole time would count the rests. Sample by sample, nothing allocated.
/// </summary>
/// <param name="high">Where falls are timed from, in newtons; a fall begins with the force at or above it.</param>
/// <param name="low">The limit.</param>
internal struct FallBands(double high, double low)
{
    private const int Bands = 4;

    // A band that is narrower than this is passed by noise.
    private const double NoisesMin = 3;

    // In one of the bands, not the first, a remnant may rest; the others are then passed in half of the time, or it is one slow fall. What
    // goes slowly through the first has drawn or slid that far.
    private const double RestedShare = 0.5;

    private readonly double _high = high;
    private readonly double _low = low;
    private double _from;
    private double _first;
    private double _second;
    private double _third;
    private double _to;
    private int _passed;

    /// <summary>From the first level to the last, once both are passed; 0 where that was between two samples.</summary>
    public readonly double Seconds => _passed > Bands ? _to - _from : 0;

    /// <summary>Takes the step from one sample to the next.</summary>
    public void Add(double timeBefore, double forceBefore, double time, double force)
    {
        while (_passed <= Bands && force < Level(_passed))
        {
            double fall = forceBefore - force;
            double share = fall > 0 ? Math.Clamp((forceBefore - Level(_passed)) / fall, 0, 1) : 1;
            Pass(timeBefore + (share * (time - timeBefore)));
        }
    }

    /// <summary>Whether the fall was sudden.</summary>
    /// <param name="secondsMax">The longest sudden fall.</param>
    /// <param name="noise">The standard deviation of the noise in newtons.</param>
    public readonly bool AreSudden(double secondsMax, double noise)
    {
        if (Seconds <= secondsMax) return true;
        if ((_high - _low) / Bands < NoisesMin * noise) return false;
        double longest = Math.Max(_second - _first, Math.Max(_third - _second, _to - _third));
        return Seconds - longest <= RestedShare * secondsMax;
    }

    private readonly double Level(int index) => _high - ((_high - _low) * index / Bands);

    private void Pass(double time)
    {
        switch (_passed++)
        {
            case 0: _from = time; break;
            case 1: _first = time; break;
            case 2: _second = time; break;
            case 3: _third = time; break;
            default: _to = time; break;
        }
    }
}
