using RigDaq.Virtual.Physics;

namespace RigDaq.Virtual.Device;

/// <summary>One conversion as the device has it in hand; its end in rig time.</summary>
internal readonly record struct Conversion(uint Number, double EndedAtSeconds, int Counts);

/// <summary>The converter's beat. Rig time advances on a fixed lattice, a whole number of steps a conversion, so that the counts depend on
/// the seed and on what was commanded, never on how the wall clock was cut into pieces.</summary>
internal sealed class Sampler
{
    /// <summary>The longest step of the mechanics, in seconds.</summary>
    private const double StepSecondsMax = 0.001;

    private const double FirstSecond = 1;
    private const int DoubtEach = 2;
    private const int DoubtMax = 6;
    /// <summary>Later than so many periods after the one before is a wrong one.</summary>
    private const double LatePeriods = 1.5;

    /// <summary>So many equal to the one before in a row are no measurement, of a converter whose last bits are noise.</summary>
    private const int FrozenReadings = 8;

    /// <summary>Below so many steps of its counts the noise does not keep them apart, and the rule is left out.</summary>
    private const double FrozenNoiseSteps = 10;

    /// <summary>What a data line that sits low is read as between two conversions, at the least.</summary>
    private const int EarlyBetween = 2;

    /// <summary>A fast converter is judged once in so long.</summary>
    private const double JudgedApartSeconds = 0.00075;

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
    private double _lastJudged = double.NegativeInfinity;
    private int _judgedCounts;
    private int _equal;
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
    public uint PeriodNanoseconds => (uint)Math.Round(1e9 / RateHertz * (1 + (_device.Options.ClockErrorPartsPerMillion * 1e-6)));

    /// <summary>One step of the mechanics, in seconds.</summary>
    public double StepSeconds { get; private set; }

    /// <summary>How long before its end a conversion looked at the force, on average: a whole number of half steps.</summary>
    public double DelaySeconds => _stepsIntegrated * StepSeconds / 2;

    /// <summary>The number of the next conversion to be delivered.</summary>
    public uint NextNumber { get; private set; }

    /// <summary>Whether fresh conversions inside the range come.</summary>
    public bool IsSound => _device.ConverterAlive && !_unsound && !IsFrozen;

    private bool IsFrozen => _equal >= FrozenReadings
        && _device.Options.NoiseCounts >= FrozenNoiseSteps * _device.Options.QuantisationCounts;

    /// <summary>Sets the rate, or the nearest there is.</summary>
    public void SetRate(double hertz)
    {
        double nearest = Math.Clamp(hertz, VirtualRigOptions.SampleRateHertzMin, VirtualRigOptions.SampleRateHertzMax);
        if (nearest == RateHertz) return;
        RateHertz = nearest;
        _stepsPerConversion = (int)Math.Ceiling(1 / RateHertz / StepSecondsMax);
        _stepsToConversion = _stepsPerConversion;
        _lastDelivered = _device.Physics.RigSeconds; // The new period counts from here.
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
        bool late = _device.ConverterAlive && now - _lastDelivered > LatePeriods / RateHertz;
        _lastDelivered = now;
        _device.TakeConversion(counts);
        // Sooner than half a period: no conversions, no numbers.
        for (int i = 0; i < EarlyBetween && _trouble.IsLow(now); i++) Weigh(wrong: true);
        if (now - _lastJudged >= JudgedApartSeconds) Judge(counts, now, late || counts >= countsMax || counts <= -countsMax - 1);
        _device.ConverterSound = IsSound;
        return true;
    }

    private void Judge(int counts, double now, bool wrong)
    {
        _equal = counts == _judgedCounts && _lastJudged > double.NegativeInfinity ? _equal + 1 : 0;
        (_judgedCounts, _lastJudged) = (counts, now);
        Weigh(wrong);
    }

    private void Weigh(bool wrong)
    {
        _doubt = wrong ? Math.Min(_doubt + DoubtEach, DoubtMax) : Math.Max(_doubt - 1, 0);
        // Sound again when all doubt is taken off, not by one good one.
        if (_doubt is 0 or DoubtMax) _unsound = _doubt == DoubtMax;
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
        return (moving || now - _device.StartedAtSeconds > FirstSecond) && (silent || _unsound || IsFrozen);
    }

    /// <summary>A restart: counting begins anew.</summary>
    public void Clear()
    {
        NextNumber = 0;
        _doubt = 0;
        _equal = 0;
        _lastJudged = double.NegativeInfinity;
        _unsound = false;
        _lastDelivered = _device.Physics.RigSeconds;
    }
}
