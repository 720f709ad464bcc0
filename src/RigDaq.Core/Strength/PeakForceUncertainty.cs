namespace RigDaq.Core.Strength;

/// <summary>How sure a run's peak force is, so that it is shown with no more digits than that.</summary>
public static class PeakForceUncertainty
{
    /// <summary>About 95 % (JCGM 100, 6.3.3).</summary>
    public const double CoverageFactor = 2;

    /// <summary>
    /// The expanded uncertainty in N: the strength's, calibration included, without the shares of section, caliper and alignment (relative uncertainties of a
    /// quotient add in squares, JCGM 100, 5.1.6). Where there is no strength, that of the reading alone; null where there is neither.
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
            if (force > 0) return CoverageFactor * force;
        }

        return run.Reading.PeakForceStandardUncertaintyNewtons is > 0 and { } reading ? CoverageFactor * reading : null;
    }
}
