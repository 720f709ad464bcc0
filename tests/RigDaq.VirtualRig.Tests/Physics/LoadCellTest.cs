using RigDaq.Virtual.Physics;
using RigDaq.Virtual.Randomness;

namespace RigDaq.Virtual.Tests.Physics;

/// <summary>The cell's additions, one at a time, against their closed forms.</summary>
public class LoadCellTest
{
    private static readonly VirtualRigOptions Clean = new()
    {
        NoiseCounts = 0,
        HumCounts = 0,
        CreepPercent = 0,
        DriftCountsPerHour = 0,
        NonLinearityPercentOfCapacity = 0,
    };

    [Fact]
    public void A_clean_cell_is_a_line_through_its_zero()
    {
        LoadCell cell = Cell(Clean);
        Assert.Equal((int)Clean.ZeroCounts, cell.Convert(0, 0));
        Assert.Equal((int)Clean.ZeroCounts + 400_000, cell.Convert(100, 0));
        Assert.Equal((int)Clean.ZeroCounts - 400_000, cell.Convert(-100, 0));
    }

    [Fact]
    public void Noise_is_normal_with_the_wanted_deviation()
    {
        LoadCell cell = Cell(Clean with { NoiseCounts = 100 });
        const int n = 40_000;
        double[] off = [.. Enumerable.Range(0, n).Select(_ => cell.Convert(0, 0) - Clean.ZeroCounts)];
        double mean = off.Average(), variance = off.Sum(x => (x - mean) * (x - mean)) / (n - 1);
        // Four standard errors: of the mean s/√n, of the deviation s/√(2n).
        Assert.InRange(mean, -4 * 100 / Math.Sqrt(n), 4 * 100 / Math.Sqrt(n));
        Assert.InRange(Math.Sqrt(variance), 100 - (4 * 100 / Math.Sqrt(2 * n)), 100 + (4 * 100 / Math.Sqrt(2 * n)));
        // A normal law has 68.27 % within one deviation.
        Assert.Equal(0.6827, off.Count(x => Math.Abs(x - mean) < Math.Sqrt(variance)) / (double)n, 0.012);
    }

    [Fact]
    public void Hum_has_its_amplitude_and_frequency()
    {
        LoadCell cell = Cell(Clean with { HumCounts = 1000, HumHertz = 50, HumPhaseRadians = 0 });
        Assert.Equal(1000, cell.Convert(0, 0.005) - Clean.ZeroCounts, 1.0);
        Assert.Equal(-1000, cell.Convert(0, 0.015) - Clean.ZeroCounts, 1.0);
        Assert.Equal(1000, cell.Convert(0, 0.025) - Clean.ZeroCounts, 1.0);
    }

    [Fact]
    public void Creep_under_a_constant_force_is_one_minus_the_exponential_and_comes_back()
    {
        LoadCell cell = Cell(Clean with { CreepPercent = 1, CreepSeconds = 60 });
        for (int i = 0; i < 6000; i++) cell.Creep(100, 0.01);
        // After one time constant 1 − 1/e of 1 % of 100 N.
        double expected = 1 - Math.Exp(-1);
        Assert.Equal(expected, (cell.Convert(100, 0) - Clean.ZeroCounts - 400_000) * Clean.NewtonsPerCount, 0.001);
        for (int i = 0; i < 6000; i++) cell.Creep(0, 0.01);
        Assert.Equal(expected * Math.Exp(-1), (cell.Convert(0, 0) - Clean.ZeroCounts) * Clean.NewtonsPerCount, 0.001);
    }

    [Fact]
    public void Drift_quantisation_and_end_stops()
    {
        Assert.Equal(Clean.ZeroCounts + 150, Cell(Clean with { DriftCountsPerHour = 300 }).Convert(0, 1800));
        LoadCell coarse = Cell(Clean with { QuantisationCounts = 64, ZeroCounts = 0 });
        for (int i = 0; i < 100; i++) Assert.Equal(0, coarse.Convert(i * 0.0123, 0) % 64);
        LoadCell narrow = Cell(Clean with { ConverterBits = 16, ZeroCounts = 100 });
        Assert.Equal(32_767, narrow.Convert(1000, 0));
        Assert.Equal(-32_768, narrow.Convert(-1000, 0));
    }

    [Fact]
    public void Non_linearity_is_nothing_at_zero_and_capacity_and_greatest_between()
    {
        LoadCell cell = Cell(Clean with { NonLinearityPercentOfCapacity = 0.05 });
        double At(double newtons) => ((cell.Convert(newtons, 0) - Clean.ZeroCounts) * Clean.NewtonsPerCount) - newtons;
        Assert.Equal(0, At(0), 0.001);
        Assert.Equal(0, At(1000), 0.001);
        Assert.Equal(0.5, At(500), 0.001);
    }

    [Fact]
    public void A_kilogram_of_conventional_mass_pulls_as_arithmetic_says()
    {
        // 1 kg of conventional mass in air of 1.2 kg/m³ at 9.80665 m/s²: 9.80665·(1 − 1.2/8000) = 9.8051790 N (OIML D 28).
        VirtualRigOptions still = Clean with { SwingShare = 0 };
        Assert.Equal(9.8051790, new HangingMass(1, 9.80665, 1.2, 8000, 0, still).ForceNewtons(5), 1e-7);
        // Another density pulls the same in air of 1.2 kg/m³: that is what conventional mass means.
        Assert.Equal(9.8051790, new HangingMass(1, 9.80665, 1.2, 7000, 0, still).ForceNewtons(5), 1e-7);
        Assert.NotEqual(9.8051790, new HangingMass(1, 9.80665, 1.1, 7000, 0, still).ForceNewtons(5), 1e-5);
    }

    [Fact]
    public void A_mass_that_was_just_hung_on_swings_and_comes_to_rest()
    {
        var mass = new HangingMass(5, 9.81, 1.2, 8000, 0, new VirtualRigOptions());
        double Spread(double from) => Enumerable.Range(0, 200).Select(i => mass.ForceNewtons(from + (i * 0.005))).Max()
            - Enumerable.Range(0, 200).Select(i => mass.ForceNewtons(from + (i * 0.005))).Min();
        Assert.True(Spread(0) > 1);
        Assert.True(Spread(12) < 0.001);
    }

    private static LoadCell Cell(VirtualRigOptions options) => new(options, new SeededRandom(11));
}
