using RigDaq.Core.Signal;
using RigDaq.Text;

namespace RigDaq.Core.Pulls;

/// <summary>A pull that has ended, raw: what the run is computed from, now and again under another calibration.</summary>
public sealed record PullRecord
{
    /// <summary>What was known at its start.</summary>
    public required PullHead Head { get; init; }

    /// <summary>How it ended, as the rig saw it.</summary>
    public required PullEnding Ending { get; init; }

    /// <summary>Why, in words; empty for a plain break.</summary>
    public required Sentence Reason { get; init; }

    /// <summary>When.</summary>
    public required DateTimeOffset EndedAt { get; init; }

    /// <summary>The samples, from the clamping window before it to the settling after it; the zero is in the head.</summary>
    public required RawTrace Trace { get; init; }

    /// <summary>When its first sample was taken, in wall time: the device's stamps mapped to the host's clock by a robust line. Null where
    /// that is not known (a pull that a crash cut short). Intervals within a pull come from the stamps alone.</summary>
    public DateTimeOffset? FirstSampleAt { get; init; }

    /// <summary>The zero after the break, in counts; null where no still window was found.</summary>
    public double? ZeroReturnCounts { get; init; }
}
