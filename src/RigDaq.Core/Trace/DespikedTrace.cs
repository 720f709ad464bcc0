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
        var kept = new List<int>(times.Length);
        double latest = double.NegativeInfinity;
        for (int i = 0; i < times.Length; i++)
        {
            // A time that goes back belongs to no order that a trace could have.
            if (!double.IsFinite(times[i]) || !double.IsFinite(forces[i]) || times[i] < latest) continue;
            latest = times[i];
            kept.Add(i);
        }

        int leftOut = times.Length - kept.Count;
        return leftOut == 0
            ? new FiniteSamples(times, forces, positions, 0)
            : new FiniteSamples(Pick(times, kept), Pick(forces, kept), positions is null ? null : Pick(positions, kept), leftOut);
    }

    internal static double[] Pick(double[] values, List<int> kept) => [.. kept.Select(i => values[i])];
}

/// <summary>A trace without its spikes, and the spikes.</summary>
internal sealed record DespikedTrace(double[] Times, double[] Forces, double[]? Positions, IReadOnlyList<DespikedSample> Spikes)
{
    public static DespikedTrace Of(double[] times, double[] forces, double[]? positions, double noise)
    {
        var despiker = new Despiker(noise);
        var kept = new List<int>(times.Length);
        var spikes = new List<DespikedSample>();
        for (int i = 0; i < times.Length; i++)
        {
            despiker.Add(times[i], forces[i]);
            Take(despiker, kept, spikes);
        }

        despiker.Flush();
        Take(despiker, kept, spikes);
        return spikes.Count == 0
            ? new DespikedTrace(times, forces, positions, spikes)
            : new DespikedTrace(
                FiniteSamples.Pick(times, kept), FiniteSamples.Pick(forces, kept), positions is null ? null
                    : FiniteSamples.Pick(positions, kept), spikes);
    }

    private static void Take(Despiker despiker, List<int> kept, List<DespikedSample> spikes)
    {
        while (despiker.TryTake(out DespikedSample sample))
        {
            if (sample.IsSpike) spikes.Add(sample);
            else kept.Add((int)sample.Index);
        }
    }
}
