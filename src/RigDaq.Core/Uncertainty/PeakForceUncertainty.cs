using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Runs;
using RigDaq.Core.Trace;

namespace RigDaq.Core.Uncertainty;

/// <summary>How sure a run's peak force is, so that it is shown with no more digits than that.</summary>
public static class PeakForceUncertainty
{
    /// <summary>About 95 % (JCGM 100, 6.3.3), where no bound outweighs the rest.</summary>
    public const double CoverageFactor = 2;

    /// <summary>The expanded uncertainty in N of the reading alone; null where it has none. Where most of it is one bound, k comes from
    /// that bound folded with the rest (JCGM 101:2008, 5.1): 1.65 for a bound alone.</summary>
    public static double? ExpandedNewtons(TraceReading reading) =>
        reading.PeakForceStandardUncertaintyNewtons is { } standard && standard >= 0
            ? Expand(standard, reading.PeakForceBoundNewtons) : null;

    /// <summary>
    /// The expanded uncertainty in N: the strength's, calibration included, without the shares of section, caliper and alignment (relative
    /// uncertainties of a quotient add in squares, JCGM 100, 5.1.6). Where there is no strength, that of the reading alone; null where
    /// there is neither.
    /// </summary>
    public static double? ExpandedNewtons(Run run)
    {
        if (run.Reading?.PeakForceNewtons is not { } peak || !(peak > 0)) return null;
        if (run.Strength is { Megapascals: > 0, AreaSquareMillimetres: > 0 } strength)
        {
            double whole = strength.StandardUncertaintyMegapascals / strength.Megapascals;
            double section = strength.AreaStandardUncertaintySquareMillimetres / strength.AreaSquareMillimetres;
            double bench = (strength.Bench?.StandardUncertaintyMegapascals ?? 0) / strength.Megapascals;
            double force = peak * Math.Sqrt(Math.Max(0, (whole * whole) - (section * section) - (bench * bench)));
            if (force > 0) return Expand(force, run.Reading.PeakForceBoundNewtons);
        }

        return ExpandedNewtons(run.Reading) is > 0 and { } reading ? reading : null;
    }

    /// <summary>Twice the standard uncertainty, or less where one bound outweighs the rest.</summary>
    private static double Expand(double standard, double? bound)
    {
        if (bound is not { } half || !(half > 0)) return CoverageFactor * standard;
        double rest = Math.Sqrt(Math.Max(0, (standard * standard) - (half * half / 3)));
        return Math.Min(CoverageFactor * standard, CoverageInterval.HalfWidth(0, half, rest, ForceUncertainty.Coverage));
    }
}
