namespace RigDaq.Core.Trace;

/// <summary>A trace in which a specimen bore load: its samples without their spikes, in newtons above zero, and what limits in it are made
/// of.</summary>
internal sealed record LoadedTrace
{
    /// <summary>The trace as it was given.</summary>
    public required ForceTrace Given { get; init; }

    /// <summary>Its samples without spikes.</summary>
    public required DespikedTrace Despiked { get; init; }

    /// <summary>The first sample in contact.</summary>
    public required int Contact { get; init; }

    /// <summary>Where contact lies.</summary>
    public required double ContactNewtons { get; init; }

    /// <summary>The standard deviation of a sample, steps of the values in it.</summary>
    public required double Noise { get; init; }

    /// <summary>How many conversions the noise is known from; 0 where that is not known, or many.</summary>
    public required int NoiseSamples { get; init; }

    /// <summary>Between two conversions; 0 where that is not known.</summary>
    public required double IntervalSeconds { get; init; }

    /// <summary>Whether times keep a steady step.</summary>
    public required bool IsEven { get; init; }

    /// <summary>The step that values come in at the greatest force; 0 where there is none.</summary>
    public required double Step { get; init; }

    /// <summary>The same at the zero.</summary>
    public required double ZeroStep { get; init; }

    /// <summary>How many conversions the zero was taken from; 0 where that is not known.</summary>
    public required int ZeroSamples { get; init; }

    public double[] Times => Despiked.Times;

    public double[] Forces => Despiked.Forces;

    /// <summary>The force at the first sample from a time on.</summary>
    public double ForceAt(double time)
    {
        int at = Array.BinarySearch(Times, time);
        return Forces[at >= 0 ? at : Math.Min(~at, Forces.Length - 1)];
    }
}
