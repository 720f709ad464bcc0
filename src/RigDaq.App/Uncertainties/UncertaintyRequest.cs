namespace RigDaq.App.Uncertainties;

/// <summary>What a page asks of an uncertainty; what is null is taken from the run, the study or the configuration, unless the form itself
/// was sent.</summary>
internal sealed record UncertaintyRequest
{
    /// <summary>A run whose calibration, force and section are taken; empty for the study that is worked on.</summary>
    public string Run { get; init; } = "";

    /// <summary>Whether the form was sent: then an empty field means that nothing is known.</summary>
    public bool Asked { get; init; }

    public double? ForceNewtons { get; init; }

    public double? WidthMillimetres { get; init; }

    public double? ThicknessMillimetres { get; init; }

    public double? StepMillimetres { get; init; }

    public double? CaliperErrorMillimetres { get; init; }

    public double? BendingPercent { get; init; }

    internal const double ForceNewtonsMax = 1_000_000;
    internal const double LengthMillimetresMax = 1_000;
}
