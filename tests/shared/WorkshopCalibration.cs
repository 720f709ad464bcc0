using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;

namespace RigDaq.Tests.Shared;

/// <summary>An invented calibration of the workshop at Kestrel Lane: masses of 1 to 35 kg on a bar of 100 kg, three series, one of them
/// falling too.</summary>
internal static class WorkshopCalibration
{
    public const string Id = "0193a3a0-0000-7000-8000-000000000001";
    public const string DeviceId = "00112233445566aa";
    public const double NewtonsPerCount = 1.1512e-4;
    public const double ZeroCounts = 81_234;

    public static CalibrationRecord Make(DateTimeOffset acceptedAt)
    {
        var random = new Random(3);
        var readings = new List<CalibrationReading>();
        LocalGravity gravity = LocalGravity.At(51.5, 40);
        AirDensity air = AirDensity.AtHeight(40);
        Weight[] weights = [.. new[] { 1, 2, 5, 10, 20 }.Select(kilograms => Weight.OfClass($"{kilograms} kg", kilograms, WeightClass.M1))];
        Weight[][] loads = [[weights[0]], [weights[1]], [weights[2]], [weights[3]], [weights[3], weights[2]], [weights[4]],
            [weights[4], weights[3]], [weights[4], weights[3], weights[2]]];
        foreach (string series in new[] { "1", "2", "3" })
        {
            Add(ReferenceForce.Zero, LoadDirection.Rising, series);
            foreach (Weight[] load in loads) Add(ReferenceForces.Hanging(load, gravity, air), LoadDirection.Rising, series);
            if (series == "3") foreach (Weight[] load in loads.Reverse().Skip(1)) Add(ReferenceForces.Hanging(load, gravity, air),
                LoadDirection.Falling, series);
            Add(ReferenceForce.Zero, LoadDirection.Falling, series);
        }

        return CalibrationBuilder.Accept(
            CalibrationFit.Of(readings, new FitSettings()),
            Id,
            DeviceId,
            acceptedAt,
            new CalibrationCircumstances
            {
                Person = "the workshop",
                Place = "Kestrel Lane",
                Cell = "100 kg bar",
                TemperatureCelsius = 21.5,
                Gravity = gravity,
                Air = air,
                Weights = weights
            });

        void Add(ReferenceForce force, LoadDirection direction, string series) => readings.Add(new CalibrationReading
        {
            Series = series,
            Direction = direction,
            Reference = force,
            Counts = ZeroCounts + (force.Newtons / NewtonsPerCount * (direction == LoadDirection.Falling ? 1.0006 : 1))
                + (Normal(random) * 150),
            FluctuationCounts = 400,
            NoiseCounts = 60,
        });
    }

    /// <summary>A draw from the normal distribution of mean 0 and standard deviation 1.</summary>
    public static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble()))
        * Math.Cos(2 * Math.PI * random.NextDouble());
}
