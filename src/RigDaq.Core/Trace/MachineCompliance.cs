namespace RigDaq.Core.Trace;

/// <summary>How far frame, cell and grips give under load, as it is taken off a crosshead's way.</summary>
/// <param name="MillimetresPerNewton">Above 0.</param>
public sealed record MachineCompliance(double MillimetresPerNewton)
{
    /// <summary>Its standard uncertainty, 0 or more.</summary>
    public double StandardUncertaintyMillimetresPerNewton { get; init; }

    /// <summary>The greatest force it was measured at; null where that is not known.</summary>
    public double? ToNewtons { get; init; }

    /// <summary>The record it comes from; null where it was given from outside.</summary>
    public string? Id { get; init; }
}
