using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;

namespace RigDaq.Core.Strength;

/// <summary>A section as a strength is divided by it.</summary>
/// <param name="AreaSquareMillimetres">Above 0.</param>
/// <param name="StandardUncertaintySquareMillimetres">0 or more.</param>
/// <param name="Basis">What it was taken from, in words.</param>
public readonly record struct SectionForStrength(double AreaSquareMillimetres, double StandardUncertaintySquareMillimetres, string Basis)
{
    /// <summary>By how much the area grows with each mm that the caliper reads too much, in mm²/mm.</summary>
    public double CaliperSlopeMillimetres { get; init; }

    /// <summary>The caliper's error limit in mm as it was kept with the readings; null where it was not.</summary>
    public double? CaliperErrorMillimetres { get; init; }
}

/// <summary>What the calibration says about a force.</summary>
/// <param name="StandardUncertaintyNewtons">Its share of the force's standard uncertainty, at the peak force.</param>
/// <param name="GreatestReferenceNewtons">The greatest reference force; null where not known.</param>
public readonly record struct ForceForStrength(double StandardUncertaintyNewtons, double? GreatestReferenceNewtons);

/// <summary>
/// From a reading and a section to a strength: σ_m = F_max/A (ISO 527-1), with u(σ)/σ = √((u(F)/F)² + (u(A)/A)²) (JCGM 100, 5.1.6: relative
/// uncertainties of a quotient add in squares). One caliper's error is shared by width and thickness: it moves the area by their sum.
/// </summary>
public static class StrengthCalculation
{
    /// <summary>A peak beyond so many times the greatest reference force makes the strength an extrapolated one.</summary>
    public const double ExtrapolatedTimes = 2;

    /// <summary>Calculates it.</summary>
    /// <param name="ending">How the pull ended; only a whole or partial break gives a strength.</param>
    /// <param name="reading">What was read from the trace; null where nothing could be.</param>
    /// <param name="section">The section; null where it was not measured.</param>
    /// <param name="force">What the calibration says at the peak force.</param>
    /// <param name="bench">What was known of caliper and load train; null leaves both out (a pull from before they were kept, a recording
    /// of others).</param>
    /// <returns>Null where the ending, the reading or the section gives none.</returns>
    public static StrengthResult? Calculate(PullEnding ending, TraceReading? reading, SectionForStrength? section, ForceForStrength force,
        BenchInputs? bench = null)
    {
        if (ending is not (PullEnding.Broken or PullEnding.PartlyBroken)) return null;
        if (reading?.PeakForceNewtons is not { } peak || !(peak > 0) || section is not { AreaSquareMillimetres: > 0 } measured) return null;
        double area = measured.AreaSquareMillimetres;
        double strength = peak / area;
        double ofReading = (reading.PeakForceStandardUncertaintyNewtons ?? 0) / peak;
        double ofArea = measured.StandardUncertaintySquareMillimetres / area;
        double ofCalibration = force.StandardUncertaintyNewtons / peak;
        double own = Math.Sqrt((ofReading * ofReading) + (ofArea * ofArea));
        StrengthBench? shares = bench is null ? null : StrengthBench.Of(bench, measured, strength);
        double ofBench = (shares?.StandardUncertaintyMegapascals ?? 0) / strength;
        double all = Math.Sqrt((own * own) + (ofCalibration * ofCalibration) + (ofBench * ofBench));
        return new StrengthResult
        {
            Megapascals = strength,
            StandardUncertaintyMegapascals = strength * all,
            RelativeComparisonUncertaintyMegapascals = strength * own,
            Bench = shares,
            AtBreakMegapascals = reading.BreakForceNewtons / area,
            AreaSquareMillimetres = area,
            AreaStandardUncertaintySquareMillimetres = measured.StandardUncertaintySquareMillimetres,
            SectionBasis = measured.Basis,
            Extrapolated = force.GreatestReferenceNewtons is { } greatest && peak > ExtrapolatedTimes * greatest,
        };
    }
}
