using RigDaq.Core.Signal;

namespace RigDaq.Core.Trace;

/// <summary>The samples of a trace whose time and force are numbers.</summary>
internal sealed record FiniteSamples(double[] Times, double[] Forces, double[]? Positions, int LeftOut)
{
    public static FiniteSamples Of(ForceTrace trace)
    {
        double[] times = trace.TimesSeconds;
        double[] forces = trace.ForcesNewtons;
        double[]? positions = trace.PositionsMillimetres?.Length == times.Length ? trace.PositionsMillimetres : null;
        double latest = double.NegativeInfinity;
        var leftOut = new List<int>();
        for (int i = 0; i < times.Length; i++)
        {
            // A time that goes back belongs to no order that a trace could have.
            if (!double.IsFinite(times[i]) || !double.IsFinite(forces[i]) || times[i] < latest) leftOut.Add(i);
            else latest = times[i];
        }

        return leftOut.Count == 0
            ? new FiniteSamples(times, forces, positions, 0)
            : new FiniteSamples(Without(times, leftOut), Without(forces, leftOut), positions is null ? null : Without(positions, leftOut),
                leftOut.Count);
    }

    /// <summary>Values without those at some places, which are in order.</summary>
    internal static double[] Without(double[] values, List<int> places)
    {
        var kept = new double[values.Length - places.Count];
        int next = 0;
        for (int i = 0; i < values.Length; i++)
        {
            if (next < places.Count && places[next] == i) next++;
            else kept[i - next] = values[i];
        }

        return kept;
    }

    internal static double[] Pick(double[] values, List<int> kept) => [.. kept.Select(i => values[i])];
}

/// <summary>A trace without its spikes, and the spikes.</summary>
internal sealed record DespikedTrace(double[] Times, double[] Forces, double[]? Positions, IReadOnlyList<DespikedSample> Spikes)
{
    public static DespikedTrace Of(double[] times, double[] forces, double[]? positions, double noise)
    {
        var despiker = new Despiker(noise);
        var spikes = new List<DespikedSample>();
        for (int i = 0; i < times.Length; i++)
        {
            despiker.Add(times[i], forces[i]);
            Take(despiker, spikes);
        }

        despiker.Flush();
        Take(despiker, spikes);
        if (spikes.Count == 0) return new DespikedTrace(times, forces, positions, spikes);
        List<int> wild = [.. spikes.Select(spike => (int)spike.Index)];
        return new DespikedTrace(FiniteSamples.Without(times, wild), FiniteSamples.Without(forces, wild),
            positions is null ? null : FiniteSamples.Without(positions, wild), spikes);
    }

    private static void Take(Despiker despiker, List<DespikedSample> spikes)
    {
        while (despiker.TryTake(out DespikedSample sample))
        {
            if (sample.IsSpike) spikes.Add(sample);
        }
    }
}
