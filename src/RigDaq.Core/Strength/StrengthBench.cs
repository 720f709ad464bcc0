using RigDaq.Core.Pulls;

namespace RigDaq.Core.Strength;

/// <summary>What caliper and load train add to the uncertainty of a strength, and what it was computed from.</summary>
public sealed record StrengthBench
{
    /// <summary>The share of the caliper's own error, in MPa.</summary>
    public required double CaliperStandardUncertaintyMegapascals { get; init; }

    /// <summary>The error limit that was entered, in mm; null where one was assumed.</summary>
    public double? CaliperErrorMillimetres { get; init; }

    /// <summary>The share of bending in the grips, in MPa.</summary>
    public required double BendingStandardUncertaintyMegapascals { get; init; }

    /// <summary>The bending that was entered, in per cent; null where one was assumed.</summary>
    public double? BendingPercent { get; init; }

    /// <summary>Both together, in MPa.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public double StandardUncertaintyMegapascals =>
        double.Hypot(CaliperStandardUncertaintyMegapascals, BendingStandardUncertaintyMegapascals);

    /// <summary>Of a strength.</summary>
    /// <param name="bench">What is known.</param>
    /// <param name="section">The section.</param>
    /// <param name="megapascals">The strength.</param>
    public static StrengthBench Of(BenchInputs bench, SectionForStrength section, double megapascals) => new()
    {
        CaliperStandardUncertaintyMegapascals =
            megapascals * bench.CaliperMillimetres(section.CaliperErrorMillimetres) * section.CaliperSlopeMillimetres
                / section.AreaSquareMillimetres,
        CaliperErrorMillimetres = section.CaliperErrorMillimetres ?? bench.CaliperErrorMillimetres,
        BendingStandardUncertaintyMegapascals = megapascals * bench.BendingShare,
        BendingPercent = bench.BendingPercent,
    };
}
