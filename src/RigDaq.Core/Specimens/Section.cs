using RigDaq.Text;

namespace RigDaq.Core.Specimens;

/// <summary>A cross-section with its uncertainty and where it comes from.</summary>
/// <param name="AreaSquareMillimetres">The area in mm², above 0.</param>
/// <param name="StandardUncertaintySquareMillimetres">Its standard uncertainty in mm², 0 or more.</param>
/// <param name="Source">In words, for example "per specimen, width × thickness"; printed with the strength.</param>
/// <param name="Warnings">What a person should know of it.</param>
public sealed record Section(double AreaSquareMillimetres, double StandardUncertaintySquareMillimetres, string Source,
    IReadOnlyList<Sentence> Warnings)
{
    /// <summary>By how much the area grows with each mm that the caliper reads too much, in mm²/mm: width plus thickness; 0 where no
    /// caliper made the area.</summary>
    public double CaliperSlopeMillimetres { get; init; }

    /// <summary>The caliper's error limit in mm as it was kept with the readings; null where it was not kept with all of them.</summary>
    public double? CaliperErrorMillimetres { get; init; }

    /// <summary>The standard uncertainty as a share of the area.</summary>
    public double RelativeStandardUncertainty => StandardUncertaintySquareMillimetres / AreaSquareMillimetres;
}
