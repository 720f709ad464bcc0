namespace RigDaq.Core.Strength;

/// <summary>Peak force over section, with what it rests on.</summary>
public sealed record StrengthResult
{
    /// <summary>Tensile strength σ_m = F_max/A in MPa (ISO 527-1).</summary>
    public required double Megapascals { get; init; }

    /// <summary>Its standard uncertainty in MPa, for the absolute figure: the shares of calibration, caliper and alignment included (the
    /// latter two where <see cref="Bench"/> is kept).</summary>
    public required double StandardUncertaintyMegapascals { get; init; }

    /// <summary>Its standard uncertainty without what cancels between runs of one bench under one calibration: the shares of calibration,
    /// caliper and alignment.</summary>
    public required double RelativeComparisonUncertaintyMegapascals { get; init; }

    /// <summary>Stress at break F_b/A in MPa; null where there is none.</summary>
    public double? AtBreakMegapascals { get; init; }

    /// <summary>The section in mm².</summary>
    public required double AreaSquareMillimetres { get; init; }

    /// <summary>Its standard uncertainty in mm².</summary>
    public required double AreaStandardUncertaintySquareMillimetres { get; init; }

    /// <summary>What the section was taken from, in words; it changes the result and is printed with it.</summary>
    public required string SectionBasis { get; init; }

    /// <summary>What caliper and load train add; null in runs from before it was kept, and where a recording of others gives no
    /// bench.</summary>
    public StrengthBench? Bench { get; init; }

    /// <summary>The calibration's share alone, in MPa.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public double CalibrationStandardUncertaintyMegapascals
    {
        get
        {
            double bench = Bench?.StandardUncertaintyMegapascals ?? 0;
            return Math.Sqrt(Math.Max(0, (StandardUncertaintyMegapascals * StandardUncertaintyMegapascals)
                - (RelativeComparisonUncertaintyMegapascals * RelativeComparisonUncertaintyMegapascals) - (bench * bench)));
        }
    }

    /// <summary>Whether the peak lies beyond twice the greatest reference force: then the word goes wherever the strength goes.</summary>
    public bool Extrapolated { get; init; }
}
