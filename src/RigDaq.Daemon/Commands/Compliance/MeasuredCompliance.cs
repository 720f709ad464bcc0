using RigDaq.Core.Compliance;

namespace RigDaq.Daemon.Commands;

/// <summary>A machine's compliance as it was measured, before it is put in force.</summary>
/// <param name="Device">The device, as 16 hexadecimal digits.</param>
/// <param name="Source">What it was measured from, in words.</param>
/// <param name="Fit">What came out.</param>
internal sealed record MeasuredCompliance(string Device, string Source, ComplianceFit Fit)
{
    /// <summary>The calibration that its forces were read by; null where they came as newtons.</summary>
    public string? CalibrationId { get; init; }

    /// <summary>The run that it was measured from; null where it was none.</summary>
    public string? RunId { get; init; }

    /// <summary>The bar that was pulled on; null where it is taken to be stiff.</summary>
    public StiffBar? Bar { get; init; }

    /// <summary>In the person's own words.</summary>
    public string? Remarks { get; init; }

    /// <summary>The raw pulls, so that another calibration can read them.</summary>
    public BarPulls? Pulls { get; init; }
}
