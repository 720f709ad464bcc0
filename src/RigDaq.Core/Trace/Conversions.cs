using RigDaq.Core.Signal;

namespace RigDaq.Core.Trace;

/// <summary>Finds a converter that is read more often than it converts, and leaves the repeats out.</summary>
internal static class Conversions
{
    // How much longer than usual a value stays for two conversions of the same value.
    private const double EqualRounding = 0.25;

    /// <summary>Each conversion once, at the time it was first read.</summary>
    /// <param name="trace">Despiked.</param>
    /// <returns>The interval between conversions is null where each was read once; the trace is then the one given.</returns>
    public static (DespikedTrace Trace, double? IntervalSeconds) Of(DespikedTrace trace)
    {
        if (FirstReads(trace.Forces) is not { } kept) return (trace, null);
        double[] times = FiniteSamples.Pick(trace.Times, kept);
        double[]? positions = trace.Positions is null ? null : FiniteSamples.Pick(trace.Positions, kept);
        return (new DespikedTrace(times, FiniteSamples.Pick(trace.Forces, kept), positions, trace.Spikes),
            SampleTiming.Of(times).IntervalSeconds);
    }

    /// <summary>Whether most changes are one step of a display or a file of few digits: equal values in a row are then
    /// measurements.</summary>
    private static bool AreRounded(ReadOnlySpan<double> values, List<int> changes)
    {
        const double StepsMax = 1.5;
        var rounding = Rounding.Of(values);
        int small = 0;
        for (int c = 1; c < changes.Count; c++)
        {
            double change = Math.Abs(values[changes[c]] - values[changes[c] - 1]);
            if (change <= StepsMax * rounding.StepAt(values[changes[c]])) small++;
        }

        return 2 * small > changes.Count - 1;
    }

    /// <summary>The first sample of each conversion.</summary>
    /// <param name="values">In the order they were sampled.</param>
    /// <returns>Null where each was read once.</returns>
    public static List<int>? FirstReads(ReadOnlySpan<double> values)
    {
        var reads = new RepeatedReads();
        foreach (double value in values) reads.Add(value);
        if (!reads.AreOneConversion) return null;
        var changes = new List<int>(values.Length);
        for (int i = 0; i < values.Length; i++)
        {
            if (i == 0 || values[i] != values[i - 1]) changes.Add(i);
        }

        if (AreRounded(values, changes)) return null;
        changes.Add(values.Length);
        double usual = Median.Of(changes.Zip(changes.Skip(1), (start, end) => (double)(end - start)).ToArray());

        // Two conversions of one value look like one that lasts twice as long; a few reads more are only the two clocks.
        var first = new List<int>(values.Length);
        for (int c = 0; c + 1 < changes.Count; c++)
        {
            int run = changes[c + 1] - changes[c];
            int equal = Math.Max(1, (int)((run / usual) + EqualRounding));
            for (int k = 0; k < equal; k++) first.Add(changes[c] + (run * k / equal));
        }

        return first;
    }
}
