namespace RigDaq.Core.Strength;

/// <summary>Peak force over section, with what it rests on.</summary>
public sealed record StrengthResult
{
    /// <summary>Tensile strength σ_m = F_max/A in MPa (ISO 527-1).</summary>
    public required double Megapascals { get; init; }

    /// <summary>Its standard uncertainty, the calibration's share included, in MPa: for the absolute figure.</summary>
    public required double StandardUncertaintyMegapascals { get; init; }

    /// <summary>Its standard uncertainty without the calibration's share, which cancels between runs under one calibration.</summary>
    public required double RelativeComparisonUncertaintyMegapascals { get; init; }

    /// <summary>Stress at break F_b/A in MPa; null where there is none.</summary>
    public double? AtBreakMegapascals { get; init; }

    /// <summary>The section in mm².</summary>
    public required double AreaSquareMillimetres { get; init; }

    /// <summary>Its standard uncertainty in mm².</summary>
    public required double AreaStandardUncertaintySquareMillimetres { get; init; }

    /// <summary>What the section was taken from, in words; it changes the result and is printed with it.</summary>
    public required string SectionBasis { get; init; }

    /// <summary>Whether the peak lies beyond twice the greatest reference force: then the word goes wherever the strength goes.</summary>
    public bool Extrapolated { get; init; }
}
