using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Tests.Statistics;

/// <summary>How often verdicts are right and wrong, by simulation with a known truth.</summary>
public class VerdictRatesTest(ITestOutputHelper output)
{
    private static readonly int Draws = Simulation.Draws(500);

    [Fact]
    public void The_demo_study_over_200_seeds_sees_the_resolvable_difference_and_seldom_sees_what_is_not_there()
    {
        // The demo's shape: two filaments, three nozzle temperatures, fan on and off, one print of twenty specimens each, Weibull
        // strengths. The truth is the drawn prints': each print has a mean of its own. At 210 °C the prints of both conditions are equal,
        // at the other settings they differ by what the planned comparisons resolve at the α of Holm's first step over the six of them.
        const int Seeds = 200, Specimens = 20;
        const double Modulus = 12;
        double variation = WeibullVariationPercent(Modulus);
        double resolvable = Planning.ResolvablePercent(new PlanQuestion { WithinPrintVariationPercent = variation, Comparisons = 6 }, 1,
            Specimens)!.Value / 100;

        // The stronger group scatters more, as Weibull strengths of one modulus do: the standard error grows with the difference.
        double difference = resolvable;
        for (int i = 0; i < 50; i++) difference = resolvable * Math.Sqrt((1 + (1 + difference) * (1 + difference)) / 2);
        var differentSeen = new Dictionary<string, int>();
        var equalSeen = new Dictionary<string, int>();
        for (int seed = 0; seed < Seeds; seed++)
        {
            var simulation = new Simulation(1000 + seed);
            var observations = new List<Observation>();
            foreach (string material in new[] { "Alder", "Birch" })
            {
                foreach (decimal setting in new[] { 190m, 210, 230 })
                {
                    double print = simulation.Normal(material == "Alder" ? 38 : 30, 1.5);
                    double other = setting == 210 ? print : print * (1 + difference);
                    Add(material, setting, "fan on", print);
                    Add(material, setting, "fan off", other);
                    void Add(string m, decimal s, string condition, double mean) => observations.AddRange(simulation
                        .Weibulls(Specimens, Modulus, mean / Gamma(1 + 1 / Modulus))
                            .Select(v => new Observation(new GroupKey(m, condition, s), "", v)));
                }
            }

            foreach (Comparison c in Comparer.Compare(observations,
                new ComparisonOptions { ReferenceCondition = "fan on", Questions = [] }).Comparisons)
            {
                Dictionary<string, int> seen = c.Setting == 210 ? equalSeen : differentSeen;
                string key = $"{c.Material} {c.Setting}";
                seen[key] = seen.GetValueOrDefault(key) + (c.Verdict == Verdicts.Different ? 1 : 0);
            }
        }

        output.WriteLine($"resolvable {100 * difference:F1} %: different in {string.Join(", ", differentSeen)}; equal but called different in {string.Join(", ", equalSeen)} of {Seeds}");
        Assert.All(differentSeen.Values, count => Assert.InRange(count, 150, Seeds));
        Assert.All(equalSeen.Values, count => Assert.InRange(count, 0, 19));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    public void With_nothing_there_any_of_six_comparisons_is_called_different_in_at_most_5_per_cent(int prints)
    {
        // With one print the truth is that print's; with three, half of the variance lies between prints.
        var simulation = new Simulation(7);
        double between = prints == 1 ? 0 : 4 * Math.Sqrt(0.5), within = prints == 1 ? 4 : 4 * Math.Sqrt(0.5);
        int wrong = 0;
        for (int i = 0; i < Draws; i++)
        {
            var observations = new List<Observation>();
            foreach (decimal setting in new[] { 1m, 2, 3, 4, 5, 6 })
            {
                foreach (string condition in new[] { "on", "off" })
                    CoverageTest.AddPrints(observations, new GroupKey("Alder", condition, setting),
                        simulation.Prints(prints, 20 / prints, 40, between, within));
            }

            if (Comparer.Compare(observations,
                new ComparisonOptions { ReferenceCondition = "on", SeparatePrints = true, Questions = [] }).Comparisons.Any(c
                => c.Verdict == Verdicts.Different)) wrong++;
        }

        double percent = 100.0 * wrong / Draws;
        output.WriteLine($"{prints} prints: any wrong \"different\" in {percent:F2} % of studies");
        Assert.True(percent <= 5 + Simulation.Allowance(Draws));
    }

    [Fact]
    public void A_difference_at_the_margin_is_called_equivalent_in_at_most_5_per_cent()
    {
        var simulation = new Simulation(8);
        double percent = Simulation.Percent(Simulation.Draws(10_000), () =>
            new TwoMeans(Moments.Estimate(simulation.Normals(20, 42, 1.2))!.Value, Moments.Estimate(simulation.Normals(20, 40, 1.2))!.Value)
                .EquivalenceP(0.05) < 0.05);
        output.WriteLine($"equivalent at the margin: {percent:F2} %");
        Assert.InRange(percent, 4, 6);
    }

    [Fact]
    public void The_resolvable_difference_is_seen_in_80_per_cent()
    {
        var simulation = new Simulation(9);
        double difference = 4 * NoncentralT.NoncentralityFor(0.8, 38, 0.05) * Math.Sqrt(2.0 / 20);
        double percent = Simulation.Percent(Simulation.Draws(10_000), () =>
            new TwoMeans(Moments.Estimate(simulation.Normals(20, 40 + difference, 4))!.Value,
                Moments.Estimate(simulation.Normals(20, 40, 4))!.Value).P < 0.05);
        output.WriteLine($"seen: {percent:F2} %");
        Assert.InRange(percent, 78, 82);
    }

    [Fact]
    public void One_print_each_calls_the_population_different_far_too_often_when_prints_scatter_which_is_why_the_words_say_these_prints()
    {
        // A tenth of the variance between prints, a true nothing: a quarter of such comparisons.
        var simulation = new Simulation(10);
        double percent = Simulation.Percent(Simulation.Draws(10_000), () =>
            new TwoMeans(
                Moments.Estimate(simulation.Prints(1, 20, 40, 4 * Math.Sqrt(0.1), 4 * Math.Sqrt(0.9))[0])!.Value,
                Moments.Estimate(simulation.Prints(1, 20, 40, 4 * Math.Sqrt(0.1), 4 * Math.Sqrt(0.9))[0])!.Value).P < 0.05);
        output.WriteLine($"called different: {percent:F2} %");
        Assert.InRange(percent, 22, 30);
    }

    private static double WeibullVariationPercent(double modulus) =>
        100 * Math.Sqrt(Gamma(1 + 2 / modulus) / Math.Pow(Gamma(1 + 1 / modulus), 2) - 1);

    private static double Gamma(double x) => MathNet.Numerics.SpecialFunctions.Gamma(x);
}
