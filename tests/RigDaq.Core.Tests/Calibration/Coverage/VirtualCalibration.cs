using MathNet.Numerics.Distributions;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Calibration.References;

namespace RigDaq.Core.Tests.Calibration.Coverage;

/// <summary>What a virtual calibration is like. Forces reach to about 98 N, 2,000 counts a newton.</summary>
internal sealed record BenchTruth
{
    public required string Name { get; init; }

    public WeightClass Class { get; init; } = WeightClass.M1;

    public LocalGravity Gravity { get; init; } = LocalGravity.At(52, 80);

    /// <summary>Standard deviation of single samples, in counts.</summary>
    public double NoiseCounts { get; init; }

    /// <summary>Standard deviation from hanging a weight anew, as a share of its force.</summary>
    public double PlacementShare { get; init; }

    /// <summary>Greatest gap between falling and rising, as a share of the greatest force.</summary>
    public double HysteresisShare { get; init; }

    /// <summary>Creep over the dwell, as a share of the force; a pull sees any part of it.</summary>
    public double CreepShare { get; init; }

    /// <summary>Drift of the zero from its reading to its return, in counts, either way.</summary>
    public double DriftCounts { get; init; }
}

/// <summary>One calibration with a known truth, and one force read under it.</summary>
internal static class VirtualCalibration
{
    public const double CountsPerNewton = 2000;
    private const int WindowSamples = 160;

    private static readonly AirDensity Air = AirDensity.AtHeight(80);

    /// <returns>The fit, the force that the curve reads, and the true one, at a share of the range, in a single sample less a mean
    /// zero.</returns>
    public static (CalibrationFit Fit, double Read, double True) Make(BenchTruth truth, Random random, double share)
    {
        // The world: each weight somewhere within its class, gravity within its uncertainty, the air within its.
        Weight[] nominal = [.. Enumerable.Range(1, 5).Select(i => Weight.OfClass($"2 kg no. {i}", 2, truth.Class))];
        double limit = WeightClassLimits.MaximumPermissibleErrorKilograms(truth.Class, 2)!.Value;
        Weight[] real = [.. nominal.Select(weight => weight with { MassKilograms = 2 + (limit * ((2 * random.NextDouble()) - 1)) })];
        var gravity = truth.Gravity with
        {
            MetresPerSecondSquared = Normal.Sample(random, truth.Gravity.MetresPerSecondSquared,
                truth.Gravity.StandardUncertaintyMetresPerSecondSquared),
        };
        double halfAir = Air.StandardUncertaintyKilogramsPerCubicMetre * Math.Sqrt(3);
        var air = Air with { KilogramsPerCubicMetre = Air.KilogramsPerCubicMetre + (halfAir * ((2 * random.NextDouble()) - 1)) };
        var references = Enumerable.Range(1, 5).Select(n => ReferenceForces.Hanging(nominal[..n], truth.Gravity, Air)).ToArray();
        double[] forces = [.. Enumerable.Range(1, 5).Select(n => ReferenceForces.Hanging(real[..n], gravity, air).Newtons)];
        double greatest = forces[^1];

        var readings = new List<CalibrationReading>();
        for (int series = 1; series <= 3; series++)
        {
            string name = $"{series}";
            double zero = 81_000 + (series * 37.3);
            double drift = truth.DriftCounts * ((2 * random.NextDouble()) - 1);
            readings.Add(Reading(name, LoadDirection.Rising, ReferenceForce.Zero, Window(zero)) with { FluctuationCounts = Fluctuation() });
            for (int i = 0; i < 5; i++)
            {
                var reading = Reading(name, LoadDirection.Rising, references[i],
                    Window(zero + (drift * (i + 1) / 7.0) + Loaded(forces[i])));
                if (i == 4) reading = reading with { AfterDwellCounts = reading.Counts + (truth.CreepShare * forces[i] * CountsPerNewton) };
                readings.Add(reading);
            }

            if (series == 3)
            {
                for (int i = 3; i >= 0; i--)
                {
                    double gap = truth.HysteresisShare * greatest * 4 * (forces[i] / greatest) * (1 - (forces[i] / greatest));
                    readings.Add(Reading(name, LoadDirection.Falling, references[i],
                        Window(zero + drift + Loaded(forces[i]) + (gap * CountsPerNewton))));
                }
            }

            readings.Add(Reading(name, LoadDirection.Falling, ReferenceForce.Zero, Window(zero + drift)));
        }

        // The room stays at the temperature of the calibration.
        var fit = CalibrationFit.Of(readings, new FitSettings(), new UncertaintyInputs { TemperatureSpreadKelvin = 0 });

        // A pull: one sample less the mean of a zero window, with any part of the creep and of the drift. Its rising branch lies off the
        // calibration's by up to half of the gap between rising and falling, for it was loaded otherwise before.
        double force = share * greatest;
        double inGap = truth.HysteresisShare * greatest * 4 * share * (1 - share) * (random.NextDouble() - 0.5);
        double crept = truth.CreepShare * force * random.NextDouble();
        double shifted = truth.DriftCounts * ((2 * random.NextDouble()) - 1);
        double deflection = ((force + inGap + crept) * CountsPerNewton) + shifted
            + Normal.Sample(random, 0, truth.NoiseCounts) - Normal.Sample(random, 0, truth.NoiseCounts / Math.Sqrt(WindowSamples));
        return (fit, fit.Polynomial.At(deflection), force);

        double Window(double counts) => counts + Normal.Sample(random, 0, truth.NoiseCounts / Math.Sqrt(WindowSamples));
        double Loaded(double newtons) => CountsPerNewton * newtons * (1 + Normal.Sample(random, 0, truth.PlacementShare));

        double Fluctuation()
        {
            double least = double.MaxValue, most = double.MinValue;
            for (int i = 0; i < 80; i++)
            {
                double sample = Normal.Sample(random, 0, truth.NoiseCounts);
                least = Math.Min(least, sample);
                most = Math.Max(most, sample);
            }

            return Math.Round(most - least);
        }
    }

    private static CalibrationReading Reading(string series, LoadDirection direction, ReferenceForce reference, double counts) => new()
    {
        Series = series,
        Direction = direction,
        Reference = reference,
        Counts = counts,
    };
}
