namespace RigDaq.Publishing.Messages;

/// <summary>A block of live force: evenly spaced samples without a gap.</summary>
public sealed record LiveMessage
{
    /// <summary>The version of the payload.</summary>
    public int Version { get; init; } = PayloadJson.Version;

    /// <summary>Counts the blocks; a gap is blocks that were dropped because the broker was slow.</summary>
    public required long Block { get; init; }

    /// <summary>Device time of the first sample.</summary>
    public required double StartSeconds { get; init; }

    /// <summary>The spacing of the samples; null where the block holds a single one.</summary>
    public required double? IntervalSeconds { get; init; }

    /// <summary>Force above zero, one a sample.</summary>
    public required IReadOnlyList<double> ForceNewtons { get; init; }

    /// <summary>Where the crosshead was at the last sample; null where the device knows no position.</summary>
    public double? CrossheadMillimetres { get; init; }
}
