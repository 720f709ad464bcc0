using RigDaq.Core.Text;

namespace RigDaq.Core.Runs;

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
