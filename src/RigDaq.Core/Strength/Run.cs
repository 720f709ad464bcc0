using RigDaq.Core.Text;

namespace RigDaq.Core.Strength;

/// <summary>
/// The stored record of a pull: what it was, how it ended, what was read from it. A run is recomputed, never edited:
/// a correction makes a new revision and the earlier ones stay.
/// </summary>
public sealed record Run
{
    /// <summary>The pull's head: ids, settings, device, zero.</summary>
    public required PullHead Head { get; init; }

    /// <summary>How it ended.</summary>
    public required PullEnding Ending { get; init; }

    /// <summary>Why, in words; empty for a plain break.</summary>
    public string Reason { get; init; } = "";

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

    /// <summary>What a person should look at.</summary>
    public IReadOnlyList<string> Warnings { get; init; } = [];

    private DateTimeOffset? At(double? seconds) => FirstSampleAt is { } first && seconds is { } after ? first + TimeSpan.FromSeconds(after) : null;
}

/// <summary>Why a run is left out of its group.</summary>
/// <param name="Kind">One of a short list.</param>
/// <param name="Text">In the person's own words.</param>
/// <param name="At">When it was said.</param>
public sealed record RunVoid(VoidKind Kind, string Text, DateTimeOffset At);

/// <summary>The short list of reasons for leaving a run out.</summary>
public enum VoidKind
{
    /// <summary>It failed at or in a grip. Enters the Weibull fit as right-censored.</summary>
    GripFailure,

    /// <summary>It slid in a grip.</summary>
    Slip,

    /// <summary>The specimen was cut wrongly.</summary>
    MisCut,

    /// <summary>It was another specimen than the one named.</summary>
    WrongSpecimen,

    /// <summary>The rig did not do what it should.</summary>
    RigFault,
}

/// <summary>The short list in words.</summary>
public static class VoidKinds
{
    /// <summary>The words by which files and messages know it: "grip failure", "slip", "mis-cut", "wrong specimen", "rig fault".</summary>
    public static string Word(this VoidKind kind) => kind switch
    {
        VoidKind.GripFailure => "grip failure",
        VoidKind.Slip => "slip",
        VoidKind.MisCut => "mis-cut",
        VoidKind.WrongSpecimen => "wrong specimen",
        VoidKind.RigFault => "rig fault",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such reason."),
    };

    /// <summary>What a person reads.</summary>
    public static string Spoken(this VoidKind kind) => kind switch
    {
        VoidKind.GripFailure => CoreText.VoidGripFailure,
        VoidKind.Slip => CoreText.VoidSlip,
        VoidKind.MisCut => CoreText.VoidMisCut,
        VoidKind.WrongSpecimen => CoreText.VoidWrongSpecimen,
        VoidKind.RigFault => CoreText.VoidRigFault,
        _ => kind.ToString(),
    };
}
