using RigDaq.Core.Signal;

namespace RigDaq.Core.Trace;

/// <summary>A reading with the samples that it rests on.</summary>
/// <param name="Reading">What was read.</param>
/// <param name="Times">Despiked, in seconds.</param>
/// <param name="Forces">Despiked, in newtons above zero.</param>
/// <param name="Positions">Of the crosshead in mm, or null.</param>
/// <param name="Spikes">The samples that were left out.</param>
/// <param name="Noise">The standard deviation that limits were made of, in newtons.</param>
/// <param name="Contact">The first sample in contact; −1 without one.</param>
/// <param name="End">The last sample before the fall, or of the pull; −1 without contact.</param>
public sealed record AnalysedTrace(TraceReading Reading, double[] Times, double[] Forces, double[]? Positions,
    IReadOnlyList<DespikedSample> Spikes, double Noise, int Contact, int End)
{
    /// <summary>When the zero was taken, in the middle of its stretch; 0 where it was taken before.</summary>
    public double ZeroSeconds { get; init; }

    /// <summary>From how many conversions; 0 where that is not known.</summary>
    public int ZeroSamples { get; init; }
}
