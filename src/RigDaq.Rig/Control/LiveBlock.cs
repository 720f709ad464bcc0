using RigDaq.Core.Signal;

namespace RigDaq.Rig.Control;

/// <summary>A few samples as they came, for a live picture or a calibration. Immutable by convention; shared by all who look.</summary>
public sealed record LiveBlock
{
    /// <summary>Counts blocks of this controller; gaps are blocks that this consumer was too slow for.</summary>
    public required long Number { get; init; }

    /// <summary>When it arrived, for display only: time in a measurement comes from the device's stamps.</summary>
    public required DateTimeOffset ArrivedAt { get; init; }

    /// <summary>The samples: number, device time in µs, counts, steps.</summary>
    public required IReadOnlyList<RawSample> Samples { get; init; }

    /// <summary>One force a sample in newtons above zero; null where no calibration is in force or no zero has been taken.</summary>
    public double[]? Newtons { get; init; }

    /// <summary>One position a sample in mm from home; null where the device knows none.</summary>
    public double[]? PositionMillimetres { get; init; }

    /// <summary>Samples lost between the block before and this one.</summary>
    public long LostBefore { get; init; }

    /// <summary>The device's start that it came from; stamps and numbers of another start do not go on from it.</summary>
    public required uint BootNumber { get; init; }

    /// <summary>The run being pulled, or null.</summary>
    public string? RunId { get; init; }
}
