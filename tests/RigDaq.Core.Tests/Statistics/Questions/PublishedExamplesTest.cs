using System.Globalization;
using RigDaq.Core.Groups;
using RigDaq.Core.Mixed;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;

namespace RigDaq.Core.Tests.Statistics.Questions;

/// <summary>Published examples on raw scales, to their printed digits; answers by R 4.2 with lme4, pbkrtest, emmeans and
/// multcomp.</summary>
public class PublishedExamplesTest
{
    // Machines (Pinheiro and Bates 2000; R's nlme): workers at three machines. A worker is a print, a machine a setting on it.
    private const string Machines = """
        6 A 46.4 44.8 49.2
        6 B 43.7 44.2 43
        6 C 62 61.4 60.5
        2 A 51.8 52.8 53.1
        2 B 59.7 60 59
        2 C 61.5 61.7 62.3
        4 A 51.1 52.3 50.3
        4 B 63.2 62.8 62.2
        4 C 64.1 66.2 64
        1 A 52 52.8 53.1
        1 B 62.1 62.6 64
        1 C 67.5 67.2 66.9
        3 A 60 60.2 58.4
        3 B 68.6 65.8 69.7
        3 C 70.8 70.6 71
        5 A 50.9 51.8 51.4
        5 B 64.8 65 65.4
        5 C 72.1 72 71.1
        """;

    // Oats (Yates 1935; R's MASS): yields at 0, 0.2, 0.4, 0.6 cwt of nitrogen. A variety is a material, a plot a print. Blocks are left
    // out: contrasts within plots only.
    private const string Oats = """
        I Golden.rain 117 114 161 141
        I Marvellous 105 140 118 156
        I Victory 111 130 157 174
        II Golden.rain 70 108 126 149
        II Marvellous 96 124 121 144
        II Victory 61 91 97 100
        III Golden.rain 60 102 89 96
        III Marvellous 89 129 132 124
        III Victory 68 64 112 86
        IV Golden.rain 64 103 132 133
        IV Marvellous 70 89 104 117
        IV Victory 74 89 81 122
        V Golden.rain 80 82 94 126
        V Marvellous 63 70 109 99
        V Victory 62 90 100 116
        VI Golden.rain 89 82 86 104
        VI Marvellous 97 99 119 121
        VI Victory 53 74 118 113
        """;

    // Recovery times under blankets (R's multcomp), each person a print.
    private static readonly (string Blanket, double[] Minutes)[] Recovery =
    [
        ("b0", [15, 13, 12, 16, 16, 17, 13, 13, 16, 17, 17, 19, 17, 15, 13, 12, 16, 10, 17, 12]), ("b1", [13, 16, 9]), ("b2", [5, 8, 9]),
        ("b3", [14, 16, 16, 12, 7, 12, 13, 13, 9, 16, 13, 18, 13, 12, 13]),
    ];

    private static readonly ComparisonOptions Raw = new() { Scale = ModelScale.Identity };

    [Fact]
    public void Machines_has_its_components_and_differences()
    {
        QuestionAnswers answers = QuestionAnswerer.Answer(
            [.. Rows(Machines)
                .SelectMany(r => r.Values.Select(v => new Observation(new GroupKey("m", "c", r.Second[0] - 'A'), r.First, v)))], Raw);
        Assert.Equal(4.78105, answers.Model!.PrintStandardDeviationPercent!.Value / 100, 5);
        Assert.Equal(3.72954, answers.Model.PrintSettingStandardDeviationPercent!.Value / 100, 5);
        Assert.Equal(0.96158, answers.Model.SpecimenStandardDeviationPercent!.Value / 100, 5);
        QuestionAnswer b = answers.Answers.Single(a => a.Question == QuestionNames.DropOff && a.Setting == 1);
        Assert.Equal(7.97, b.LogEstimate!.Value, 2);
        Assert.Equal(2.18, b.LogStandardError!.Value, 2);
        Assert.Equal(10, b.DegreesOfFreedom!.Value, 6);
        double half = StudentT.TwoSidedQuantile(0.05, b.DegreesOfFreedom.Value) * b.LogStandardError.Value;
        Assert.Equal(3.12, b.LogEstimate.Value - half, 2);
        Assert.Equal(12.8, b.LogEstimate.Value + half, 1);
        Assert.Equal(13.92, answers.Answers.Single(a => a.Question == QuestionNames.DropOff && a.Setting == 2).LogEstimate!.Value, 2);
    }

    [Fact]
    public void Oats_has_its_contrasts_within_plots()
    {
        QuestionAnswers answers = QuestionAnswerer.Answer(
            [.. Rows(Oats)
                .SelectMany(r => r.Values.Select((v, i) => new Observation(new GroupKey(r.Second, "c", 0.2m * i), r.First + r.Second, v)))],
                Raw);
        QuestionAnswer[] drops = [.. answers.Answers.Where(a => a.Question == QuestionNames.DropOff)];
        Assert.Equal([18.5, 34.7, 44.8, 21.8, 30.5, 40.2, 18.2, 39.3, 47.0], drops.Select(a => Math.Round(a.LogEstimate!.Value, 1)),
            (a, b) => Math.Abs(a - b) < 0.11);
        Assert.All(drops, a => Assert.Equal(7.68, a.LogStandardError!.Value, 2));
        Assert.All(drops, a => Assert.Equal(45, a.DegreesOfFreedom!.Value, 6));
        QuestionAnswer[] differences =
            [.. answers.Answers.Where(a => a.Question == QuestionNames.DropOffDifference && a.AgainstMaterial == "Golden.rain"
            && a.Material == "Marvellous")];
        Assert.Equal([3.333, -4.167, -4.667], differences.Select(a => Math.Round(a.LogEstimate!.Value, 3)));
        Assert.All(differences, a => Assert.Equal(10.9, a.LogStandardError!.Value, 1));
        Assert.All(differences, a => Assert.Equal(45, a.DegreesOfFreedom!.Value, 6));
    }

    [Fact]
    public void Dunnett_s_adjustment_is_that_of_multcomp_to_three_digits()
    {
        Observation[] people =
            [.. Recovery.SelectMany(b => b.Minutes
            .Select((m, i) => new Observation(new GroupKey(b.Blanket, "c", null), $"{b.Blanket}{i}", m)))];
        QuestionAnswer[] found =
            [.. QuestionAnswerer.Answer(people, Raw with { ReferenceMaterial = "b0", Questions = [QuestionNames.Material] }).Answers];
        Assert.Equal([-2.13333, -7.46667, -1.66667], found.Select(a => Math.Round(a.LogEstimate!.Value, 5)));
        Assert.Equal([1.6037868, 1.6037868, 0.8847728], found.Select(a => Math.Round(a.LogStandardError!.Value, 7)));
        Assert.Equal(0.45590, found[0].PAdjusted!.Value, 2e-4);
        Assert.True(found[1].PAdjusted < 0.001);
        Assert.Equal(0.18197, found[2].PAdjusted!.Value, 2e-4);

        // The quantile of its simultaneous intervals, ±2.4882882 standard errors, has an adjusted p of 5 %.
        Assert.All(found, a => Assert.Equal(37, a.DegreesOfFreedom!.Value, 6));
    }

    // Newcombe, Statistics in Medicine 17, 857-872 and 873-890 (1998).
    [Theory]
    [InlineData(81, 263, 0.2553, 0.3662)]
    [InlineData(15, 148, 0.0624, 0.1605)]
    [InlineData(0, 20, 0, 0.1611)]
    [InlineData(1, 29, 0.0061, 0.1718)]
    public void Wilson_s_interval_is_Newcombe_s_example(int count, int total, double low, double high)
    {
        Interval interval = Proportion.Of([(count, total)]).Wilson(0.05);
        Assert.Equal(low, interval.Low, 4);
        Assert.Equal(high, interval.High, 4);
    }

    [Theory]
    [InlineData(56, 70, 48, 80, 0.0524, 0.3339)]
    [InlineData(9, 10, 3, 10, 0.1705, 0.8090)]
    [InlineData(10, 10, 0, 10, 0.6075, 1)]
    public void The_difference_of_two_shares_is_Newcombe_s_example(int a, int m, int b, int n, double low, double high)
    {
        Interval interval = Proportion.Newcombe(Proportion.Of([(a, m)]), Proportion.Of([(b, n)]), 0.05);
        Assert.Equal(low, interval.Low, 4);
        Assert.Equal(high, interval.High, 4);
    }

    // R's documentation of prop.trend.test: smokers among patients with lung cancer in four studies; chi-squared 8.2249, p = 0.004132.
    [Fact]
    public void The_trend_of_shares_is_that_of_prop_trend_test() => Assert.Equal(
        0.004132,
            Proportion.TrendP([.. new[]
            { (83, 86), (90, 93), (129, 136), (70, 82) }.Select((s, i) => ((double)i, Proportion.Of([s])))])!.Value, 6);

    private static IEnumerable<(string First, string Second, double[] Values)> Rows(string table)
        => table.Split('\n', StringSplitOptions.RemoveEmptyEntries)
        .Select(line => line.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        .Select(cells => (cells[0], cells[1], cells[2..].Select(c => double.Parse(c, CultureInfo.InvariantCulture)).ToArray()));
}
