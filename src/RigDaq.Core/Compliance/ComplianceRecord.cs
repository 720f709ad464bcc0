using RigDaq.Core.Trace;

namespace RigDaq.Core.Compliance;

/// <summary>A measured compliance as it is kept: dated, never edited; the newest one of a device goes with its later runs. Fitted again
/// under another calibration it is a further record, which goes with the runs under that calibration.</summary>
public sealed record ComplianceRecord
{
    /// <summary>A version 7 UUID in text form, so that ids sort by time.</summary>
    public required string Id { get; init; }

    /// <summary>The device, as 16 hexadecimal digits.</summary>
    public required string DeviceId { get; init; }

    /// <summary>When it was measured and put in force; fitted again it keeps that.</summary>
    public required DateTimeOffset MeasuredAt { get; init; }

    /// <summary>What it was measured from, in words: a pull on the bar, a stored run, a file.</summary>
    public required string Source { get; init; }

    /// <summary>The calibration that the forces were read by; null where they came in newtons.</summary>
    public string? CalibrationId { get; init; }

    /// <summary>The stored run that it was measured from; null for any other source.</summary>
    public string? RunId { get; init; }

    /// <summary>The record as it was measured, where this one was fitted again from it; null for a measured one.</summary>
    public string? RefittedFrom { get; init; }

    /// <summary>When it was fitted again; null for a measured one.</summary>
    public DateTimeOffset? RefittedAt { get; init; }

    /// <summary>The bar; null where it was not told.</summary>
    public StiffBar? Bar { get; init; }

    /// <summary>Grips used and what else is worth knowing, in a person's words.</summary>
    public string Remarks { get; init; } = "";

    /// <summary>The line and its figures.</summary>
    public required ComplianceFit Fit { get; init; }

    /// <summary>As it is taken off a crosshead's way.</summary>
    public MachineCompliance ToCompliance() => Fit.ToCompliance(Id);
}
