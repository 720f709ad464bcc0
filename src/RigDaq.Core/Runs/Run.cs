using RigDaq.Core.Callers;
using RigDaq.Core.Pulls;
using RigDaq.Core.Strength;
using RigDaq.Core.Trace;
using RigDaq.Text;

namespace RigDaq.Core.Runs;

/// <summary>The stored record of a pull: what it was, how it ended, what was read from it. A run is recomputed, never edited: a correction
/// makes a new revision and the earlier ones stay.</summary>
public sealed record Run
{
    /// <summary>The pull's head: ids, settings, device, zero.</summary>
    public required PullHead Head { get; init; }

    /// <summary>How it ended.</summary>
    public required PullEnding Ending { get; init; }

    /// <summary>Why, in words; empty for a plain break.</summary>
    public Sentence Reason { get; init; } = Sentence.None;

    /// <summary>When it ended.</summary>
    public required DateTimeOffset EndedAt { get; init; }

    /// <summary>When the first sample of its trace was taken, in wall time; null where that is not known.</summary>
    public DateTimeOffset? FirstSampleAt { get; init; }

    /// <summary>When the specimen came under load, in wall time; null where that is not known.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public DateTimeOffset? ContactAt => At(Reading?.ContactTimeSeconds);

    /// <summary>When the fall that separated it began, in wall time; null where that is not known.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public DateTimeOffset? BrokeAt => At(Reading?.BreakTimeSeconds);

    /// <summary>What was read from the trace; null where nothing could be.</summary>
    public TraceReading? Reading { get; init; }

    /// <summary>The strength; null where the ending or the section gives none.</summary>
    public StrengthResult? Strength { get; init; }

    /// <summary>The shift of the zero over the pull, in newtons; null where it is not known.</summary>
    public double? ZeroShiftNewtons { get; init; }

    /// <summary>Why it is left out of its group; null where it is not.</summary>
    public RunVoid? Void { get; init; }

    /// <summary>What the eye saw of the broken piece; null where nobody looked.</summary>
    public FractureLook? Look { get; init; }

    /// <summary>0 for the first version; each correction adds one.</summary>
    public int Revision { get; init; }

    /// <summary>Why this revision was made; empty for the first.</summary>
    public string RevisionReason { get; init; } = "";

    /// <summary>When this revision was made.</summary>
    public required DateTimeOffset RevisedAt { get; init; }

    /// <summary>By whom; null for the first, which the rig makes, and where that was not kept.</summary>
    public By? By { get; init; }

    /// <summary>What a person should look at.</summary>
    public IReadOnlyList<Sentence> Warnings { get; init; } = [];

    private DateTimeOffset? At(double? seconds) => FirstSampleAt is { } first && seconds is { } after ? first + TimeSpan.FromSeconds(after)
        : null;
}
