using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Trace;

namespace RigDaq.Rig.Control;

/// <summary>Looks at every sample as it comes: takes out spikes, fills the windows that zeros and clamping forces are taken from, and
/// watches a pull. It works on device time and tells only what matters; nothing is allocated a sample.</summary>
internal sealed class SignalWatch
{
    /// <summary>How many windows may be open.</summary>
    public const int WindowsMax = 4;

    /// <summary>So many equal counts in a row, where the noise is at least one count, are a converter that repeats itself: by chance they
    /// would not come in the age of the world.</summary>
    public const int EqualCountsMax = 100;

    private readonly List<SignalWindow> _windows = new(WindowsMax);
    private int _lastCounts;
    private int _equalCounts;
    private Despiker _despiker = new(0);
    private double _noiseCounts;

    /// <summary>The pull that is watched; null for none.</summary>
    public PullWatch? Pull { get; set; }

    /// <summary>Told when the despiked force is below a level, once; null where nothing is relieved.</summary>
    public ReliefWatch? Relief { get; set; }

    /// <summary>The standard deviation of the counts that is counted with; 0 where it is not known.</summary>
    public double NoiseCounts
    {
        get => _noiseCounts;
        set
        {
            if (value.Equals(_noiseCounts)) return;
            _noiseCounts = value;
            _despiker = new Despiker(value);
        }
    }

    /// <summary>Whether the converter repeats one value. No force limit can act then, here or in the device.</summary>
    /// <param name="zeroDeviationCounts">The standard deviation seen at the last zero; 0 where none was taken.</param>
    public bool IsStuck(double zeroDeviationCounts) => Math.Max(_noiseCounts, zeroDeviationCounts) >= 1 && _equalCounts >= EqualCountsMax;

    /// <summary>The device counts from elsewhere: windows and filter begin anew.</summary>
    public void Reset()
    {
        _equalCounts = 0;
        _despiker = new Despiker(_noiseCounts);
        foreach (SignalWindow window in _windows) window.Clear();
    }

    /// <summary>Opens a window over the samples that come from now on.</summary>
    public void Open(SignalWindow window)
    {
        if (_windows.Count >= WindowsMax) _windows.RemoveAt(0);
        _windows.Add(window);
    }

    /// <summary>Closes a window without an answer.</summary>
    public void Close(SignalWindow window) => _windows.Remove(window);

    /// <summary>Takes samples as they came.</summary>
    public void Take(ReadOnlySpan<RawSample> samples)
    {
        foreach (ref readonly RawSample sample in samples)
        {
            _equalCounts = sample.Counts == _lastCounts ? Math.Min(_equalCounts + 1, EqualCountsMax) : 0;
            _lastCounts = sample.Counts;
            _despiker.Add(sample.DeviceMicroseconds * 1e-6, sample.Counts);
            while (_despiker.TryTake(out DespikedSample despiked))
            {
                if (!despiked.IsSpike) Look(despiked.TimeSeconds, despiked.Value);
            }
        }
    }

    private void Look(double timeSeconds, double counts)
    {
        Pull?.Add(timeSeconds, counts);
        Relief?.Add(counts);
        for (int i = _windows.Count - 1; i >= 0; i--)
        {
            // What a window tells may close others.
            if (i >= _windows.Count) continue;
            SignalWindow window = _windows[i];
            if (!window.Add(timeSeconds, counts)) continue;
            _windows.RemoveAt(i);
            window.Tell(_noiseCounts);
        }
    }
}

/// <summary>A stretch of samples, some seconds of device time long, that is judged when it is full.</summary>
internal sealed class SignalWindow(double seconds, Action<Stillness> told)
{
    /// <summary>The most samples of a window; it closes early when they are full.</summary>
    public const int SamplesMax = 65_536;

    private readonly List<double> _times = [];
    private readonly List<double> _values = [];

    /// <summary>Takes a sample; true when the window is full.</summary>
    public bool Add(double timeSeconds, double value)
    {
        _times.Add(timeSeconds);
        _values.Add(value);
        bool longEnough = timeSeconds - _times[0] >= seconds && _times.Count >= StillWindow.SamplesMin;
        return longEnough || _times.Count >= SamplesMax;
    }

    public void Clear()
    {
        _times.Clear();
        _values.Clear();
    }

    public void Tell(double noise) => told(StillWindow.Judge(_times.ToArray(), _values.ToArray(), noise));
}

/// <summary>Tells once when the force has come down.</summary>
internal sealed class ReliefWatch(ForceCurve curve, double zeroCounts, double belowNewtons, Action told)
{
    private bool _told;

    public void Add(double counts)
    {
        if (_told || Math.Abs(curve.Newtons(counts - zeroCounts)) >= belowNewtons) return;
        _told = true;
        told();
    }
}

/// <summary>Watches one pull: preload, decision, force limit, time limit. Each is told once.</summary>
internal sealed class PullWatch(BreakDetector detector, ForceCurve curve, double zeroCounts, double forceLimitNewtons,
    double timeLimitSeconds, IPullWatcher watcher)
{
    private double _startSeconds = double.NaN;
    private bool _preloadTold;
    private bool _decisionTold;
    private bool _limitTold;
    private bool _timeTold;

    /// <summary>Whether the time limit begins anew when the preload is felt.</summary>
    public bool TimeRunsFromPreload { get; init; }

    /// <summary>The device time of the last sample that was looked at, in seconds.</summary>
    public double LastSeconds { get; private set; }

    /// <summary>The greatest force so far, in newtons.</summary>
    public double RunningMaximumNewtons => detector.RunningMaximumNewtons;

    public void Add(double timeSeconds, double counts)
    {
        if (double.IsNaN(_startSeconds)) _startSeconds = timeSeconds;
        LastSeconds = timeSeconds;
        double newtons = curve.Newtons(counts - zeroCounts);
        DetectorState state = detector.Add(timeSeconds, newtons);
        if (state >= DetectorState.Broken)
        {
            if (!_decisionTold) watcher.Decided(state);
            _decisionTold = true;
            return;
        }

        if (state >= DetectorState.Loading && !_preloadTold)
        {
            _preloadTold = true;
            if (TimeRunsFromPreload) _startSeconds = timeSeconds;
            watcher.PreloadReached();
        }

        if (newtons >= forceLimitNewtons && !_limitTold)
        {
            _limitTold = true;
            watcher.ForceLimitPassed(newtons);
        }

        if (timeSeconds - _startSeconds >= timeLimitSeconds && !_timeTold)
        {
            _timeTold = true;
            watcher.TimeOver();
        }
    }
}

/// <summary>Who is told what happens in a pull.</summary>
internal interface IPullWatcher
{
    void PreloadReached();

    void Decided(DetectorState decision);

    void ForceLimitPassed(double newtons);

    void TimeOver();
}
