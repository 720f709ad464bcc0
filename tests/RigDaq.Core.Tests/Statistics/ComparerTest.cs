using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Tests.Statistics;

/// <summary>The whole answer against R 4.2 (tools/reference/statistics.R).</summary>
public class ComparerTest
{
    [Fact]
    public void PlantGrowth_in_all_pairs_gives_the_figures_of_R()
    {
        ComparisonAnswer answer = Comparer.Compare(RData.Observations(RData.PlantGrowth), new ComparisonOptions());

        Assert.Equal(["ctrl", "trt1", "trt2"], answer.Groups.Select(g => g.Condition));
        Check(answer.Groups[0], 5.032, 0.583091378392406, 4.61488155565504, 5.44911844434496);
        Check(answer.Groups[1], 4.661, 0.793675696434703, 4.09323860945436, 5.22876139054564);
        Check(answer.Groups[2], 5.526, 0.442573283322786, 5.20940214537693, 5.84259785462307);

        Assert.Equal([("trt1", "ctrl"), ("trt2", "ctrl"), ("trt2", "trt1")], answer.Comparisons.Select(c => (c.Condition, c.Reference)));
        Check(answer.Comparisons[0], -0.371, -1.02951622134681, 0.28751622134681, -1.1912603818487, 16.5235850568593, 0.250382508587548,
            0.250382508587548,
            -7.37281399046106, -19.6593393218137, 6.03995529845474, 0.649214370640504, 0.927535324167092);
        Check(answer.Comparisons[1], 0.494, 0.00512786996464084, 0.982872130035359, 2.13402045312406, 16.7857644826057, 0.0478992556019693,
            0.0957985112039386,
            9.81717011128775, 0.0611970300251619, 20.9065088380393, 0.837493691470744, 0.688741272018507);
        Check(answer.Comparisons[2], 0.865, 0.24908556120618, 1.48091443879382, 3.01009854212436, 14.1035691227603, 0.00929840471726983,
            0.0278952141518095,
            18.5582493027247, 4.73299559887375, 35.6470482111589, 0.973511699083059, 0.865420487188489);
        Assert.Equal(["not resolved", "not resolved", "different"], answer.Comparisons.Select(c => c.Verdict));
    }

    [Fact]
    public void Gossets_sleep_data_give_the_figures_of_R_and_an_unbounded_percentage()
    {
        ComparisonAnswer answer = Comparer.Compare(RData.Observations(RData.Sleep), new ComparisonOptions { ReferenceCondition = "1" });
        Comparison comparison = Assert.Single(answer.Comparisons);
        Close.Digits(12, 1.86081346748685, comparison.T);
        Close.Digits(12, 17.7764735161785, comparison.DegreesOfFreedom);
        Close.Digits(11, 0.0793941401873582, comparison.P);
        Close.Digits(11, -0.20548323071171, comparison.Low);
        Close.Digits(11, 3.36548323071171, comparison.High);
        Close.Digits(9, 2.51743100268772, comparison.Resolvable);
        Assert.Null(comparison.PercentLow);
        Assert.Null(comparison.PercentHigh);
        Assert.Contains(answer.Warnings, w => w.Code == "pairPercentUnbounded");
        Assert.Equal("not resolved", comparison.Verdict);
    }

    [Fact]
    public void Print_means_with_their_scatter_pooled_relative_to_the_mean_give_the_figures_of_R()
    {
        ComparisonAnswer answer = Comparer.Compare(ThreePrintsEach, new ComparisonOptions { ReferenceCondition = "off" });
        Comparison comparison = Assert.Single(answer.Comparisons);
        Assert.Equal("prints", comparison.Method);
        Close.Digits(12, 4.24166666666666, comparison.Difference);
        Close.Digits(11, 0.980887080793255, comparison.Low);
        Close.Digits(11, 7.50244625254008, comparison.High);
        Close.Digits(11, 3.61163775238517, comparison.T);
        Close.Digits(11, 0.0225238040049954, comparison.P);
        Close.Digits(11, 4, comparison.DegreesOfFreedom);
        Close.Digits(9, 2.44686430083652, comparison.PercentLow);
        Close.Digits(9, 20.2326224198718, comparison.PercentHigh);
        Close.Digits(11, 36.4339412376335, answer.Groups[0].Low);
        Close.Digits(11, 40.7993920956998, answer.Groups[0].High);
        Close.Digits(11, 45.2808100017661, answer.Groups[1].High);
        Close.Digits(11, 2.27256944444444, answer.Groups[0].BetweenPrintVariance);
        Close.Digits(11, 0.430555555555555, answer.Groups[0].WithinPrintVariance);
        Assert.Equal(3, answer.Groups[0].Prints);
    }

    [Fact]
    public void The_e_Handbooks_outlier_is_told_with_its_statistic_and_two_sided_critical_value()
    {
        // NIST/SEMATECH e-Handbook 1.3.5.17.1; the two-sided critical value by R.
        Grubbs grubbs = Grubbs.Test([199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57], 0.05)!;
        Assert.Equal(245.57, grubbs.Value);
        Assert.Equal(2.46876, grubbs.Statistic, 5);
        Close.Digits(11, 2.12664508719546, grubbs.Critical);
        Assert.True(grubbs.Outlying);
        Assert.Equal(2.032, Grubbs.CriticalValue(8, 0.05), 3);
    }

    [Fact]
    public void Holm_is_that_of_p_adjust_and_skips_what_is_missing()
    {
        IReadOnlyList<double?> adjusted = Holm.Adjust([0.01, null, 0.04, 0.03, 0.005, 0.9]);
        double?[] expected = [0.04, null, 0.09, 0.09, 0.025, 0.9];
        Assert.Equal(expected, adjusted.Select(p => p is { } v ? Math.Round(v, 12) : (double?)null));
    }

    [Fact]
    public void The_slope_over_the_setting_is_that_of_lm()
    {
        // R's data set cars: distance over speed; each row a print of its own.
        double[] speed = [4, 4, 7, 7, 8, 9, 10, 10, 10, 11, 11, 12, 12, 12, 12, 13, 13, 13, 13, 14, 14, 14, 14, 15, 15, 15, 16, 16, 17, 17,
            17, 18, 18, 18, 18, 19, 19, 19, 20, 20, 20, 20, 20, 22, 23, 24, 24, 24, 24, 25];
        double[] distance = [2, 10, 4, 22, 16, 10, 18, 26, 34, 17, 28, 14, 20, 24, 28, 26, 34, 34, 46, 26, 36, 60, 80, 20, 26, 54, 32, 40,
            32, 40, 50, 42, 56, 76, 84, 36, 46, 68, 32, 48, 52, 56, 64, 66, 54, 70, 92, 93, 120, 85];
        SettingSeries series = Assert.Single(Comparer.Compare(
            [.. speed.Select((s, i) => new Observation(new GroupKey("car", "", (decimal)s), $"{i}", distance[i]))],
                new ComparisonOptions()).Series);
        Close.Digits(11, 3.93240875912409, series.Slope);
        Close.Digits(11, 3.09696432814032, series.SlopeLow);
        Close.Digits(11, 4.76785319010785, series.SlopeHigh);
    }

    internal static Observation[] ThreePrintsEach => [.. new[]
    {
        ("off", "a", new[] { 38.1, 37.4, 39.0, 38.3 }), ("off", "b", [40.2, 39.6, 41.1, 40.4]), ("off", "c", [37.0, 38.2, 36.6, 37.5]),
        ("on", "a", [42.0, 43.1, 42.4, 41.6]), ("on", "b", [44.3, 43.9, 45.0, 44.1]), ("on", "c", [41.2, 42.6, 41.9, 42.2]),
    }.SelectMany(print => print.Item3.Select(v => new Observation(new GroupKey("Alder", print.Item1, 210), print.Item2, v)))];

    private static void Check(GroupStatistics group, double mean, double deviation, double low, double high)
    {
        Close.Digits(12, mean, group.Mean);
        Close.Digits(12, deviation, group.StandardDeviation);
        Close.Digits(11, low, group.Low);
        Close.Digits(11, high, group.High);
        Close.Digits(12, 100 * deviation / mean, group.VariationPercent);
    }

    private static void Check(Comparison c, double difference, double low, double high, double t, double degrees, double p, double adjusted,
        double percent, double percentLow, double percentHigh, double equivalence, double resolvable)
    {
        Close.Digits(11, difference, c.Difference);
        Close.Digits(11, low, c.Low);
        Close.Digits(11, high, c.High);
        Close.Digits(11, t, c.T);
        Close.Digits(11, degrees, c.DegreesOfFreedom);
        Close.Digits(11, p, c.P);
        Close.Digits(11, adjusted, c.PAdjusted);
        Close.Digits(11, percent, c.Percent);
        Close.Digits(9, percentLow, c.PercentLow);
        Close.Digits(9, percentHigh, c.PercentHigh);
        Close.Digits(11, equivalence, c.PEquivalence);
        Close.Digits(9, resolvable, c.Resolvable);
        Assert.Equal("welch", c.Method);
    }
}
