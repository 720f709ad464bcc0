using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.References;

namespace RigDaq.Core.Tests.Calibration;

/// <summary>Readings for tests, short to write down.</summary>
internal static class Readings
{
    public static CalibrationReading Zero(string series, double counts, double? fluctuation = null)
        => Make(series, LoadDirection.Rising, ReferenceForce.Zero, counts, fluctuation);

    public static CalibrationReading Up(string series, double newtons, double counts, double? uncertainty = null) =>
        Make(series, LoadDirection.Rising, ReferenceForces.Entered(newtons, uncertainty), counts, null);

    public static CalibrationReading Down(string series, double newtons, double counts) =>
        Make(series, LoadDirection.Falling, ReferenceForces.Entered(newtons), counts, null);

    public static CalibrationReading Make(string series, LoadDirection direction, ReferenceForce reference, double counts,
        double? fluctuation) => new()
        {
            Series = series,
            Direction = direction,
            Reference = reference,
            Counts = counts,
            FluctuationCounts = fluctuation,
        };
}
