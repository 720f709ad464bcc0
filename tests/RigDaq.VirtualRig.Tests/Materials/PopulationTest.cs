using MathNet.Numerics;
using RigDaq.Core.Specimens;
using RigDaq.Virtual.Materials;

namespace RigDaq.Virtual.Tests.Materials;

/// <summary>A study's own truth.</summary>
public class PopulationTest
{
    private static readonly GroupKey Hot = new("Alder", "fan off", 220);

    private static readonly VirtualMaterial Alder = new()
    {
        Name = "Alder",
        MeanMegapascals = 30,
        ReferenceSetting = 200,
        PercentPerSettingUnit = 0.5,
        ConditionFactors = new Dictionary<string, double> { ["fan on"] = 0.8 },
        WeibullModulus = 12,
    };

    [Fact]
    public void The_mean_goes_with_setting_and_condition()
    {
        var population = new VirtualPopulation(1, [Alder]);
        Assert.Equal(33, population.MeanMegapascals(Hot), 1e-9);
        Assert.Equal(24, population.MeanMegapascals(new GroupKey("Alder", "fan on", 200)), 1e-9);
        Assert.Throws<KeyNotFoundException>(() => population.MeanMegapascals(new GroupKey("Birch", "", null)));
    }

    [Theory]
    [InlineData(1, 1.0)]
    [InlineData(2, 0.886226925452758)]
    [InlineData(3.5, 0.899747162)]
    public void The_weibull_mean_is_scale_times_gamma(double modulus, double gamma)
    {
        // Γ(2) = 1 and Γ(1.5) = √π/2 exactly; Γ(1 + 1/3.5) by the gamma function of Python 3 (math.gamma).
        Assert.Equal(10 / gamma, WeibullTruth.Scale(10, modulus), modulus > 3 ? 1e-4 : 1e-9);
    }

    [Fact]
    public void Drawn_strengths_have_the_mean_and_the_scatter_of_their_distribution()
    {
        var population = new VirtualPopulation(3, [Alder]);
        const int n = 20_000;
        double[] drawn = [.. Enumerable.Range(0, n).Select(i => population.StrengthMegapascals(Hot, "p", $"s{i}"))];
        double mean = drawn.Average();
        double deviation = Math.Sqrt(drawn.Sum(x => (x - mean) * (x - mean)) / (n - 1));
        // Standard deviation over mean at modulus 12: √(Γ(1 + 2/12)/Γ(1 + 1/12)² − 1) (NIST/SEMATECH e-Handbook, 1.3.6.6.8).
        double cv = Math.Sqrt(SpecialFunctions.Gamma(1 + (2 / 12.0)) / Math.Pow(SpecialFunctions.Gamma(1 + (1 / 12.0)), 2) - 1);
        Assert.Equal(33, mean, 4 * 33 * cv / Math.Sqrt(n));
        Assert.Equal(33 * cv, deviation, 0.05 * 33 * cv);
        // At the scale 1 − 1/e of a Weibull law have failed (NIST/SEMATECH e-Handbook, 8.1.6.2).
        double below = drawn.Count(x => x <= WeibullTruth.Scale(33, 12)) / (double)n;
        Assert.Equal(1 - Math.Exp(-1), below, 0.015);
    }

    [Fact]
    public void What_is_drawn_does_not_depend_on_order_or_number()
    {
        var first = new VirtualPopulation(9, [Alder]);
        var second = new VirtualPopulation(9, [Alder]);
        double[] forwards = [.. Enumerable.Range(0, 30).Select(i => first.StrengthMegapascals(Hot, $"p{i % 3}", $"s{i}"))];
        double[] backwards = [.. Enumerable.Range(0, 30).Reverse().Select(i => second.StrengthMegapascals(Hot, $"p{i % 3}", $"s{i}"))];
        Assert.Equal(forwards, backwards.Reverse());
        Assert.Equal(forwards[7], new VirtualPopulation(9, [Alder]).StrengthMegapascals(Hot with { Setting = 220.0m }, "p1", "s7"));
        Assert.NotEqual(forwards[7], new VirtualPopulation(10, [Alder]).StrengthMegapascals(Hot, "p1", "s7"));
        Assert.Equal(30, forwards.Distinct().Count());
    }

    [Fact]
    public void Prints_scatter_by_their_own_share()
    {
        var population = new VirtualPopulation(4, [Alder with { WeibullModulus = 200, PrintToPrintPercent = 5 }]);
        double[] prints = [.. Enumerable.Range(0, 400).Select(p =>
            Enumerable.Range(0, 10).Average(i => population.StrengthMegapascals(Hot, $"p{p}", $"s{i}")))];
        double mean = prints.Average();
        double deviation = Math.Sqrt(prints.Sum(x => (x - mean) * (x - mean)) / (prints.Length - 1));
        Assert.Equal(5, 100 * deviation / mean, 0.8);
        Assert.Equal(33, mean, 4 * 0.05 * 33 / Math.Sqrt(400));
    }

    [Fact]
    public void A_specimen_bears_its_stress_on_its_true_section_and_the_caliper_reads_near_it()
    {
        var population = new VirtualPopulation(5, [Alder]);
        VirtualSection section = population.Section(Hot, "p", "s1", new VirtualSectioning());
        VirtualSpecimen specimen = population.Specimen(Hot, "p", "s1", section);
        double stress = population.StrengthMegapascals(Hot, "p", "s1");
        Assert.Equal(stress * section.WidthMillimetres * section.ThicknessMillimetres, specimen.StrengthNewtons, 1e-9);
        Assert.Equal(3, section.WidthReadings.Count);
        Assert.All(section.WidthReadings, r => Assert.Equal(section.WidthMillimetres, r, 0.05));
        Assert.All(section.ThicknessReadings, r => Assert.Equal(Math.Round(r, 2), r));
    }
}
