namespace RigDaq.Core.Trace;

/// <summary>Forces over time, ready to be read: samples of one pull, from before contact to the settling after it.</summary>
public sealed record ForceTrace
{
    /// <summary>When each sample was taken, in seconds, never falling.</summary>
    public required double[] TimesSeconds { get; init; }

    /// <summary>The force of each, in newtons; a value that is not finite is taken as lost.</summary>
    public required double[] ForcesNewtons { get; init; }

    /// <summary>The crosshead at each, in mm, positive apart; null where it is not known.</summary>
    public double[]? PositionsMillimetres { get; init; }

    /// <summary>Samples known to be lost, from their numbers; null where only the times can tell.</summary>
    public long? SamplesLost { get; init; }

    /// <summary>The converter's nominal interval in seconds; null where only the times can tell.</summary>
    public double? IntervalSeconds { get; init; }

    /// <summary>How long before its stamp a conversion looked at the force, on average, in seconds.</summary>
    public double ConverterDelaySeconds { get; init; }

    /// <summary>How well the times are known, in seconds, one standard deviation; 0 where far better than the interval.</summary>
    public double StampStandardUncertaintySeconds { get; init; }

    /// <summary>The force at which the converter or the cell is at its end and reads no further, in newtons as given; null where not
    /// known.</summary>
    public double? SaturationNewtons { get; init; }
}
