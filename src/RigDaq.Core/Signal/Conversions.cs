namespace RigDaq.Core.Signal;

/// <summary>Finds a converter that is read more often than it converts, and leaves the repeats out.</summary>
internal static class Conversions
{
    // Noise makes neighbours equal now and then, and a cell at its end stands still; only a converter that is read too often
    // makes so large a share of all values come twice or more.
    private const double RepeatedShare = 0.4;

    private const int SamplesMin = 12;

    /// <summary>Each conversion once, at the time it was first read.</summary>
    /// <param name="trace">Despiked.</param>
    /// <param name="noise">The standard deviation of the noise in newtons.</param>
    /// <returns>The interval between conversions is null where each was read once; the trace is then the one given.</returns>
    public static (DespikedTrace Trace, double? IntervalSeconds) Of(DespikedTrace trace, double noise)
    {
        double[] forces = trace.Forces;
        if (noise <= 0 || forces.Length < SamplesMin) return (trace, null);
        var kept = new List<int>(forces.Length) { 0 };
        double smallest = double.PositiveInfinity;
        int twice = 0;
        for (int i = 1; i < forces.Length; i++)
        {
            double step = Math.Abs(forces[i] - forces[kept[^1]]);
            if (step == 0)
            {
                if (kept[^1] == i - 1) twice++;
                continue;
            }

            smallest = Math.Min(smallest, step);
            kept.Add(i);
        }

        // Coarse steps make equals too where the noise is below one of them; then a repeat is a measurement.
        if (kept.Count < SamplesMin / 2 || twice < RepeatedShare * kept.Count || smallest >= noise) return (trace, null);
        double[] times = FiniteSamples.Pick(trace.Times, kept);
        double[]? positions = trace.Positions is null ? null : FiniteSamples.Pick(trace.Positions, kept);
        return (new DespikedTrace(times, FiniteSamples.Pick(forces, kept), positions, trace.Spikes), SampleTiming.Of(times).IntervalSeconds);
    }
}
