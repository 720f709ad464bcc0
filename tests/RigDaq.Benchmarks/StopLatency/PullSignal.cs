using RigDaq.Tests.Shared;

namespace RigDaq.Benchmarks.StopLatency;

/// <summary>
/// What the device of the stop's measurement converts: stillness, and from a start on a load that rises and is gone from one sample to the
/// next. It knows which sample decides: the first one that is a settling window later, and, because a wild conversion is told by its
/// neighbours, the one after it.
/// </summary>
internal sealed class PullSignal(int seed)
{
    public const int PeriodMicroseconds = 3_130;
    public const double NewtonsPerCount = 2.5e-4;
    public const double NoiseCounts = 20;

    /// <summary>How long a fall may yet recover: the program's own default, in samples of this device.</summary>
    private const int SettlingSamples = (250_000 / PeriodMicroseconds) + 1;

    private const double ZeroCounts = 41_830;
    private const double NewtonsASecond = 300;
    private const double BreakSecondsMin = 0.4;
    private const double BreakSecondsRange = 0.4;

    private readonly Random _random = new(seed);
    private int _loaded = -1;
    private int _breaksAt;

    /// <summary>The sample that decides, from 0; −1 while there is none.</summary>
    public long DecidesAt { get; private set; } = -1;

    /// <summary>Samples so far.</summary>
    public long Number { get; private set; }

    /// <summary>Whether the specimen is under load.</summary>
    public bool IsLoading => _loaded >= 0;

    /// <summary>The load begins.</summary>
    public void Begin()
    {
        _loaded = 0;
        _breaksAt = (int)((BreakSecondsMin + (_random.NextDouble() * BreakSecondsRange)) / PeriodMicroseconds * 1e6);
    }

    /// <summary>What decided is done.</summary>
    public void Forget() => DecidesAt = -1;

    /// <summary>The next conversion, and whether the specimen parted with it.</summary>
    public (int Counts, bool Parted) Take()
    {
        double newtons = 0;
        bool parted = false;
        if (_loaded >= 0)
        {
            parted = ++_loaded == _breaksAt;
            newtons = parted ? 0 : NewtonsASecond * _loaded * PeriodMicroseconds * 1e-6;
            if (parted) (_loaded, DecidesAt) = (-1, Number + SettlingSamples + 1);
        }

        Number++;
        return ((int)Math.Round(ZeroCounts + (newtons / NewtonsPerCount) + (NoiseCounts * WorkshopCalibration.Normal(_random))), parted);
    }
}
