namespace RigDaq.Core.Specimens;

/// <summary>The readings that a section is computed from. One way of the three is used:
/// width and thickness, a directly entered area, or mass, length and density.</summary>
public sealed record SectionMeasurement
{
    /// <summary>The greatest error limit of a caliper that is taken, in mm: a folding rule is better.</summary>
    public const double CaliperErrorMillimetresMax = 1;

    /// <summary>Widths in mm, one a reading.</summary>
    public IReadOnlyList<double> WidthsMillimetres { get; init; } = [];

    /// <summary>Thicknesses in mm, one a reading.</summary>
    public IReadOnlyList<double> ThicknessesMillimetres { get; init; } = [];

    /// <summary>The smallest step that the caliper shows, in mm.</summary>
    public double ResolutionMillimetres { get; init; } = 0.01;

    /// <summary>The caliper's own error limit in mm, as it was known when it read these; null where it was not, and in readings from before
    /// it was kept.</summary>
    public double? CaliperErrorMillimetres { get; init; }

    /// <summary>A directly entered area in mm², with its standard uncertainty.</summary>
    public double? AreaSquareMillimetres { get; init; }

    /// <summary>The standard uncertainty of a directly entered area, in mm².</summary>
    public double? AreaStandardUncertaintySquareMillimetres { get; init; }

    /// <summary>Mass, length and density, for a piece of constant section; null unless that way is used.</summary>
    public MassSection? Mass { get; init; }
}

/// <summary>A section from mass per length: area = mass/(length × density), for hollow or ragged pieces of constant section.</summary>
public sealed record MassSection
{
    /// <summary>The mass of the piece in grams, above 0.</summary>
    public required double MassGrams { get; init; }

    /// <summary>Its standard uncertainty in grams.</summary>
    public double MassStandardUncertaintyGrams { get; init; }

    /// <summary>The length that was weighed, in mm, above 0.</summary>
    public required double LengthMillimetres { get; init; }

    /// <summary>Its standard uncertainty in mm.</summary>
    public double LengthStandardUncertaintyMillimetres { get; init; }

    /// <summary>The density of the material in g/cm³, above 0.</summary>
    public required double DensityGramsPerCubicCentimetre { get; init; }

    /// <summary>Its standard uncertainty in g/cm³.</summary>
    public double DensityStandardUncertaintyGramsPerCubicCentimetre { get; init; }
}
