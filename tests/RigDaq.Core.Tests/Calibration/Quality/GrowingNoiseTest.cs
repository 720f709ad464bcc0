using MathNet.Numerics.Distributions;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using static RigDaq.Core.Tests.Calibration.Readings;

namespace RigDaq.Core.Tests.Calibration.Quality;

/// <summary>Windows of 80 normal samples, drawn here: the noise of one sample under load is what they were drawn with.</summary>
public sealed class GrowingNoiseTest
{
    private static readonly double[] Forces = [20, 40, 60, 80, 100];

    /// <summary>Noise of 15 counts unloaded and of ten times that at 100 N: the line of the budget is 1.5 counts per newton, within two
    /// tenths, in nearly all of 200 tables.</summary>
    [Fact]
    public void Is_in_the_budget_of_one_reading_as_wide_as_it_was_drawn()
    {
        var random = new Random(11);
        int near = Enumerable.Range(0, 200).Count(_ =>
        {
            var model = CalibrationFit.Of(Table(random, 15, 1.5), new FitSettings()).Uncertainty;
            var force = ForceUncertainty.Of(model, 100);
            double grown = force.Lines.Where(line => line.Kind == UncertaintyKind.Resolution).Max(line => line.StandardNewtons) * 1000;

            // A pull's peak brings its own noise.
            Assert.Equal(force.CalibrationStandardNewtons!.Value,
                ForceUncertainty.Of(model with { ReadingGrowthCountsPerNewton = null }, 100).CalibrationStandardNewtons!.Value, 12);
            return Math.Abs(grown - 150) < 30;
        });
        Assert.InRange(near, 190, 200);
    }

    /// <summary>Noise that is the same at all forces is taken for one that grows at the level of the test: 5 of 100, within four standard
    /// deviations of 600.</summary>
    [Fact]
    public void Is_left_out_where_the_windows_do_not_prefer_it()
    {
        var random = new Random(12);
        int found = Enumerable.Range(0, 600)
            .Count(_ => CalibrationFit.Of(Table(random, 40, 0), new FitSettings()).Uncertainty.ReadingGrowthCountsPerNewton is not null);
        Assert.InRange(found, 0, 0.05 * 600 + (4 * Math.Sqrt(600 * 0.05 * 0.95)));
    }

    private static List<CalibrationReading> Table(Random random, double noise, double growth)
    {
        var readings = new List<CalibrationReading>();
        foreach (string series in new[] { "1", "2", "3" })
        {
            double zero = 500 + (100 * random.NextDouble());
            readings.Add(Window(Zero(series, zero), 0));
            readings.AddRange(Forces.Select(force => Window(Up(series, force, zero + (1000 * force), force * 1e-4), force)));
        }

        return readings;

        CalibrationReading Window(CalibrationReading reading, double force)
        {
            double[] samples =
                [.. Enumerable.Range(0, 80)
                .Select(_ =>
                Math.Round(reading.Counts + Normal.Sample(random, 0, Math.Sqrt((noise * noise) + Math.Pow(growth * force, 2)))))];
            return reading with { Counts = samples.Average(), FluctuationCounts = samples.Max() - samples.Min() };
        }
    }
}
