using RigDaq.Core.Signal;

namespace RigDaq.Core.Calibration.Guided;

/// <summary>The mean of some neighbouring samples, and how they scatter.</summary>
/// <param name="FirstMicroseconds">Device time of the first.</param>
/// <param name="LastMicroseconds">Device time of the last.</param>
/// <param name="Samples">How many.</param>
/// <param name="MeanCounts">Their mean.</param>
/// <param name="SquaresCounts">The sum of squared departures from it.</param>
public sealed record SignalBin(long FirstMicroseconds, long LastMicroseconds, int Samples, double MeanCounts, double SquaresCounts)
{
    internal double MiddleSeconds => (FirstMicroseconds + LastMicroseconds) / 2e6;

    internal SignalBin Add(RawSample sample)
    {
        double before = sample.Counts - MeanCounts;
        double mean = MeanCounts + (before / (Samples + 1));
        return new SignalBin(FirstMicroseconds, sample.DeviceMicroseconds, Samples + 1, mean,
            SquaresCounts + (before * (sample.Counts - mean)));
    }
}

/// <summary>The recent signal, as means over a tenth of a second or four samples, whichever is longer. A value: adding a sample gives
/// another window.</summary>
public sealed record SignalWindow
{
    /// <summary>Samples over which a reading's fluctuation is looked at.</summary>
    public const int FluctuationSamples = 80;

    internal const int BinsMin = 8;
    private const double BinSeconds = 0.1;
    private const int BinSamples = 4;

    /// <summary>The complete means, oldest first.</summary>
    public IReadOnlyList<SignalBin> Bins { get; init; } = [];

    /// <summary>The mean that is being made; null before its first sample.</summary>
    public SignalBin? Open { get; init; }

    /// <summary>The last single counts, at most 80, oldest first.</summary>
    public IReadOnlyList<int> Recent { get; init; } = [];

    /// <summary>Adds a sample.</summary>
    /// <param name="sample">Later than all before.</param>
    /// <param name="keepSeconds">How much to keep.</param>
    /// <param name="completed">Whether a mean was completed by it.</param>
    internal SignalWindow Add(RawSample sample, double keepSeconds, out bool completed)
    {
        var open = Open?.Add(sample) ?? new SignalBin(sample.DeviceMicroseconds, sample.DeviceMicroseconds, 1, sample.Counts, 0);

        // The span of n samples is n − 1 intervals: the bin is full when one more sample would pass its length.
        double interval = open.Samples > 1 ? (open.LastMicroseconds - open.FirstMicroseconds) / 1e6 / (open.Samples - 1)
            : double.PositiveInfinity;
        completed = open.Samples >= BinSamples && (open.Samples * interval) >= BinSeconds * (1 - 1e-6);
        var window = this with { Open = completed ? null : open };
        if (!completed) return window;
        long oldest = sample.DeviceMicroseconds - (long)(keepSeconds * 1e6);
        int drop = 0;
        while (drop < Bins.Count - (BinsMin * 4) && Bins[drop].LastMicroseconds < oldest) drop++;
        return window with { Bins = [.. Bins.Skip(drop), open] };
    }

    /// <summary>Puts down the last single counts.</summary>
    internal SignalWindow Remember(IReadOnlyList<int> counts) => this with { Recent = [.. counts.TakeLast(FluctuationSamples)] };

    /// <summary>The newest means that span a time (and at least eight of them); null where there are not as many yet.</summary>
    internal WindowReading? Last(double seconds, int samplesMin = 0)
    {
        int samples = 0;
        for (int i = Bins.Count - 1; i >= 0; i--)
        {
            samples += Bins[i].Samples;
            if (Bins.Count - i >= BinsMin
                && samples >= samplesMin && (Bins[^1].LastMicroseconds - Bins[i].FirstMicroseconds) / 1e6 >= seconds * 0.97)
                return WindowReading.Of(Bins, i);
        }

        return null;
    }
}

/// <summary>What a stretch of the signal looks like.</summary>
/// <param name="MeanCounts">The mean of all samples.</param>
/// <param name="NoiseCounts">The standard deviation of single samples about their tenth of a second.</param>
/// <param name="WanderCounts">The standard deviation of the means about a straight line.</param>
/// <param name="CountsPerSecond">The slope of that line.</param>
/// <param name="Seconds">How long it is.</param>
/// <param name="StepCounts">A robust standard deviation of the means, from neighbour to neighbour.</param>
internal sealed record WindowReading(double MeanCounts, double NoiseCounts, double WanderCounts, double CountsPerSecond, double Seconds,
    double StepCounts)
{
    public static WindowReading Of(IReadOnlyList<SignalBin> bins, int first)
    {
        int n = bins.Count - first;
        double samples = 0, sum = 0, squares = 0, freedom = 0, timeMean = 0, mean = 0;
        for (int i = first; i < bins.Count; i++)
        {
            var bin = bins[i];
            samples += bin.Samples;
            sum += bin.Samples * bin.MeanCounts;
            squares += bin.SquaresCounts;
            freedom += bin.Samples - 1;
            timeMean += bin.MiddleSeconds / n;
            mean += bin.MeanCounts / n;
        }

        double xx = 0, xy = 0, yy = 0;
        var steps = new List<double>(n);
        for (int i = first; i < bins.Count; i++)
        {
            double x = bins[i].MiddleSeconds - timeMean, y = bins[i].MeanCounts - mean;
            xx += x * x;
            xy += x * y;
            yy += y * y;
            if (i > first) steps.Add(Math.Abs(bins[i].MeanCounts - bins[i - 1].MeanCounts));
        }

        steps.Sort();
        double slope = xx > 0 ? xy / xx : 0;
        double wander = Math.Sqrt(Math.Max(0, yy - (slope * xy)) / (n - 2));

        // Median of |difference| to the standard deviation of one of the two: 1.4826/√2 for a normal distribution.
        double robust = steps[steps.Count / 2] * 1.4826 / Math.Sqrt(2);
        double seconds = (bins[^1].LastMicroseconds - bins[first].FirstMicroseconds) / 1e6;
        return new WindowReading(sum / samples, Math.Sqrt(squares / freedom), wander, slope, seconds, robust);
    }
}
