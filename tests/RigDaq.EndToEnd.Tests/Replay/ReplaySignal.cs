using RigDaq.Core.Signal;

namespace RigDaq.EndToEnd.Tests.Replay;

/// <summary>
/// What the replay device converts: stillness about the recorded zero, a clamped specimen, the recorded stretch sample by sample,
/// then stillness where it ended, and nothing in the grips once the crosshead has been sent elsewhere.
/// </summary>
internal sealed class ReplaySignal(RecordedRun run)
{
    /// <summary>The level of the stillness after the recording is the mean of so many last samples.</summary>
    private const int TailSamples = 8;

    /// <summary>The upper four middles of eight equally likely strata of the normal distribution, scaled to a mean square of 1.</summary>
    private static readonly double[] Strata = [0.171, 0.53, 0.962, 1.663];

    private readonly Random _random = new(11);
    private readonly double _periodMicroseconds = run.Head.IntervalSeconds * 1e6;
    private readonly int _lastStepChange = LastStepChange(run.Samples);
    private double _level = run.Head.ZeroCounts;
    private readonly double[] _noise = [.. Strata];
    private int _nextNoise = 2 * Strata.Length;
    private long _number;
    private double _stampMicroseconds = 1e6;
    private int _next = -1;

    /// <summary>Where the crosshead stands, in steps.</summary>
    public int Steps { get; private set; } = run.Samples[0].CrossheadSteps;

    /// <summary>Whether the recorded stretch is under way.</summary>
    public bool Plays => _next >= 0 && _next < run.Samples.Count;

    /// <summary>Whether the recorded crosshead has come to its last stand.</summary>
    public bool RecordedMotionIsOver => _next > _lastStepChange;

    /// <summary>The device's clock in µs: when the last conversion ended.</summary>
    public double NowMicroseconds => _stampMicroseconds;

    /// <summary>A specimen is in the grips: the force that clamping put on it stands from here.</summary>
    public void Clamp() => _level = Mean(run.Samples.TakeWhile(s => s.CrossheadSteps == run.Samples[0].CrossheadSteps));

    /// <summary>The recorded stretch begins.</summary>
    public void Play() => _next = 0;

    /// <summary>The crosshead is sent where no recording leads: what carried load is gone.</summary>
    public void LetGo(int steps)
    {
        _next = run.Samples.Count;
        _level = run.Head.ZeroCounts;
        Steps = steps;
    }

    /// <summary>The next conversion.</summary>
    public RawSample Take()
    {
        if (Plays) return TakeRecorded();
        _number++;
        _stampMicroseconds += _periodMicroseconds;
        return new RawSample(_number, (long)_stampMicroseconds, Still(), Steps);
    }

    private RawSample TakeRecorded()
    {
        RawSample recorded = run.Samples[_next];
        RawSample before = _next > 0 ? run.Samples[_next - 1]
            : recorded with { Number = recorded.Number - 1, DeviceMicroseconds = recorded.DeviceMicroseconds - (long)_periodMicroseconds };
        _number += recorded.Number - before.Number;
        _stampMicroseconds += recorded.DeviceMicroseconds - before.DeviceMicroseconds;
        Steps = recorded.CrossheadSteps;
        _next++;
        if (_next == run.Samples.Count) _level = Mean(run.Samples.TakeLast(TailSamples));
        return recorded with { Number = _number, DeviceMicroseconds = (long)_stampMicroseconds };
    }

    /// <summary>
    /// Noise in pairs that cancel, of which every eight conversions have the recorded deviation: a zero that is taken from it is nearly
    /// the recorded one.
    /// </summary>
    private int Still()
    {
        if (_nextNoise == 2 * _noise.Length)
        {
            _random.Shuffle(_noise);
            _nextNoise = 0;
        }

        double noise = _noise[_nextNoise / 2] * (_nextNoise % 2 == 0 ? 1 : -1);
        _nextNoise++;
        return (int)Math.Round(_level + (run.Head.NoiseCounts * noise));
    }

    private static double Mean(IEnumerable<RawSample> samples) => samples.Average(s => (double)s.Counts);

    private static int LastStepChange(IReadOnlyList<RawSample> samples)
    {
        for (int i = samples.Count - 1; i > 0; i--)
        {
            if (samples[i].CrossheadSteps != samples[i - 1].CrossheadSteps) return i;
        }

        return 0;
    }
}
