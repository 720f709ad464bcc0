namespace RigDaq.Core.Signal;

/// <summary>The raw samples of one pull, from the clamping window before it to the settling after it. Immutable by convention.</summary>
public sealed record RawTrace
{
    /// <summary>The samples in the order of their numbers.</summary>
    public required IReadOnlyList<RawSample> Samples { get; init; }

    /// <summary>The values of the channels besides the force; empty where there are none. What they are stands in the pull's
    /// head.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public IReadOnlyList<ChannelTrace> Channels { get; init; } = [];

    /// <summary>The converter's nominal interval in seconds, above 0.</summary>
    public required double IntervalSeconds { get; init; }

    /// <summary>Steps in a millimetre of crosshead travel; null where the device knows no position.</summary>
    public double? StepsPerMillimetre { get; init; }

    /// <summary>How long before its stamp a conversion looked at the force, on average, in seconds.</summary>
    public double ConverterDelaySeconds { get; init; }
}
