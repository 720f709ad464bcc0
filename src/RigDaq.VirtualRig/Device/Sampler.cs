using RigDaq.Virtual.Physics;

namespace RigDaq.Virtual.Device;

/// <summary>One conversion as the device has it in hand.</summary>
/// <param name="Number">Counts every conversion since the start.</param>
/// <param name="EndedAtSeconds">When it ended, in rig time.</param>
/// <param name="Counts">The counts.</param>
internal readonly record struct Conversion(uint Number, double EndedAtSeconds, int Counts);

/// <summary>
/// The converter's beat. Rig time advances on a fixed lattice, a whole number of steps a conversion, so that the counts
/// depend on the seed and on what was commanded, never on how the wall clock was cut into pieces.
/// </summary>
internal sealed class Sampler
{
    /// <summary>The longest step of the mechanics, in seconds.</summary>
    private const double StepSecondsMax = 0.001;

    private const double FirstSecond = 1;
    private const int DoubtEach = 2;
    private const int DoubtMax = 6;
    private const double SilenceSeconds = 0.020;
    private const int SilencePeriods = 4;
    private const double MotionSilenceSeconds = 0.005;
    private const double MotionSilencePeriods = 2.5;
    private readonly DeviceContext _device;
    private readonly ConverterTrouble _trouble;
    private int _stepsToConversion;
    private int _stepsPerConversion;
    private int _stepsIntegrated;
    private double _lastDelivered;
    private int _doubt;
    private bool _unsound;

    public Sampler(DeviceContext device, ConverterTrouble trouble)
    {
        _device = device;
        _trouble = trouble;
        SetRate(device.Options.SampleRateHertz);
    }

    /// <summary>The rate in force.</summary>
    public double RateHertz { get; private set; }

    /// <summary>The rate in force as the wire tells it.</summary>
    public uint RateMillihertz => (uint)Math.Round(RateHertz * 1000);

    /// <summary>The period as the device's own clock measures it.</summary>
    public uint PeriodNanoseconds =>
        (uint)Math.Round(1e9 / RateHertz * (1 + (_device.Options.ClockErrorPartsPerMillion * 1e-6)));

    /// <summary>One step of the mechanics, in seconds.</summary>
    public double StepSeconds { get; private set; }

    /// <summary>How long before its end a conversion looked at the force, on average: a whole number of half steps.</summary>
    public double DelaySeconds => _stepsIntegrated * StepSeconds / 2;

    /// <summary>The number of the next conversion to be delivered.</summary>
    public uint NextNumber { get; private set; }

    /// <summary>Whether fresh conversions inside the range come.</summary>
    public bool IsSound => _device.ConverterAlive && !_unsound;

    /// <summary>Sets the rate, or the nearest there is.</summary>
    public void SetRate(double hertz)
    {
        double nearest = Math.Clamp(hertz, VirtualRigOptions.SampleRateHertzMin, VirtualRigOptions.SampleRateHertzMax);
        if (nearest == RateHertz) return;
        RateHertz = nearest;
        _stepsPerConversion = (int)Math.Ceiling(1 / RateHertz / StepSecondsMax);
        _stepsToConversion = _stepsPerConversion;
        StepSeconds = 1 / RateHertz / _stepsPerConversion;
        _stepsIntegrated = Math.Min((int)Math.Round(2 * _device.Options.ConverterDelaySeconds / StepSeconds), PastForces.StepsMax);
    }

    /// <summary>The mechanics went one step on.</summary>
    /// <returns>True where a conversion has ended.</returns>
    public bool Step(out Conversion conversion)
    {
        conversion = default;
        if (--_stepsToConversion > 0) return false;
        _stepsToConversion = _stepsPerConversion;
        double now = _device.Physics.RigSeconds;
        int countsMax = _device.Physics.CountsMax;
        if (_trouble.Disturb(_device.Physics.Convert(_stepsIntegrated), now, countsMax) is not { } counts) return false;
        conversion = new Conversion(NextNumber++, now, counts);
        _lastDelivered = now;
        _device.TakeConversion(counts);
        bool wrong = counts >= countsMax || counts <= -countsMax - 1;
        _doubt = wrong ? Math.Min(_doubt + DoubtEach, DoubtMax) : Math.Max(_doubt - 1, 0);
        // Sound again when all doubt is taken off, not by one good one.
        if (_doubt is 0 or DoubtMax) _unsound = _doubt == DoubtMax;
        _device.ConverterSound = IsSound;
        return true;
    }

    /// <summary>Whether the converter is to be called faulty (PROTOCOL.md, 10).</summary>
    /// <param name="moving">Whether something moves: then silence is death sooner, and the first second is no grace.</param>
    public bool IsFaulty(bool moving)
    {
        double now = _device.Physics.RigSeconds;
        bool silent = now - Math.Max(_lastDelivered, _device.StartedAtSeconds)
            > (moving ? (MotionSilencePeriods / RateHertz) + MotionSilenceSeconds : (SilencePeriods / RateHertz) + SilenceSeconds);
        _device.ConverterAlive &= !silent;
        if (silent) (_doubt, _unsound) = (DoubtMax, true);
        _device.ConverterSound = IsSound;
        return (moving || now - _device.StartedAtSeconds > FirstSecond) && (silent || _unsound);
    }

    /// <summary>A restart: counting begins anew.</summary>
    public void Clear()
    {
        NextNumber = 0;
        _doubt = 0;
        _unsound = false;
        _lastDelivered = _device.Physics.RigSeconds;
    }
}
