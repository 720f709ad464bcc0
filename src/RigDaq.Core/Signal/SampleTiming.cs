namespace RigDaq.Core.Signal;

/// <summary>How regularly a trace was sampled.</summary>
/// <param name="IntervalSeconds">Between two samples; 0 where there are fewer than two or all have one time.</param>
/// <param name="SamplesLost">How many are missing, by the gaps.</param>
/// <param name="IsRegular">Whether the times keep step: if not, gaps are not lost samples.</param>
public readonly record struct SampleTiming(double IntervalSeconds, long SamplesLost, bool IsRegular)
{
    // Times keep step when this share of the intervals is within a quarter of the median.
    private const double RegularShare = 0.8;

    // A gap longer than this many intervals has lost samples in it.
    private const double GapIntervals = 1.5;

    /// <summary>Samples a second; null where it is not known.</summary>
    public double? RateHertz => IntervalSeconds > 0 ? 1 / IntervalSeconds : null;

    /// <summary>Looks at the times of a trace.</summary>
    /// <param name="timesSeconds">Never falling.</param>
    public static SampleTiming Of(ReadOnlySpan<double> timesSeconds)
    {
        int n = timesSeconds.Length;
        double span = n < 2 ? 0 : timesSeconds[n - 1] - timesSeconds[0];
        if (!(span > 0)) return default;
        var intervals = new double[n - 1];
        for (int i = 0; i < intervals.Length; i++) intervals[i] = timesSeconds[i + 1] - timesSeconds[i];
        double median = Median.Of(intervals);
        int near = intervals.Count(interval => Math.Abs(interval - median) <= median / 4);
        if (near < RegularShare * intervals.Length) return new SampleTiming(span / (n - 1), 0, false);
        long lost = 0;
        foreach (double interval in intervals)
        {
            if (interval > GapIntervals * median) lost += (long)Math.Round(interval / median) - 1;
        }

        return new SampleTiming(span / (n - 1 + lost), lost, true);
    }
}
