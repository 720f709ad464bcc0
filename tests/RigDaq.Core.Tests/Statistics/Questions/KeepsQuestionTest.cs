using RigDaq.Core.Groups;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Tests.Statistics.Questions;

/// <summary>"keeps" with the reference setting in the middle: one answer, each way at half the level. Figures by R's t.test on
/// logarithms.</summary>
public class KeepsQuestionTest
{
    private static readonly Dictionary<decimal, double[]> Strengths = new()
    {
        [200] = [30.1, 31.4, 29.6, 30.8, 30.3],
        [210] = [30.9, 31.6, 30.2, 31.1, 30.5],
        [220] = [29.9, 30.7, 30.4, 29.2, 30.6],
        [230] = [27.0, 28.4, 26.1, 27.7, 26.8],
    };

    [Fact]
    public void A_reference_in_the_middle_gives_one_answer_with_both_ways()
    {
        QuestionAnswer answer = Assert.Single(Keeps(new ComparisonOptions { ReferenceSetting = 210, SettingUnit = "°C" }));
        Assert.Equal((220m, 210m, TrendForms.Up, QuestionVerdicts.Kept),
            (answer.Setting, answer.AgainstSetting, answer.Form, answer.Verdict));

        // t.test(log(x), log(at 210), conf.level = 0.95): its two-sided limits at 95 % are the one-sided ones at 97.5 %.
        Assert.Equal(0.9772708355, 1 + answer.Percent!.Value / 100, 1e-9);
        Assert.Equal(0.9502156211, 1 + answer.PercentLow!.Value / 100, 1e-9);
        KeptOtherWay down = answer.OtherWay!;
        Assert.Equal((200m, TrendForms.Down), (down.Setting, down.Form));
        Assert.Equal(0.9863105834, 1 + down.Percent!.Value / 100, 1e-9);
        Assert.Equal(0.9573907814, 1 + down.PercentLow!.Value / 100, 1e-9);
        Assert.Null(answer.PAdjusted);
        Assert.Contains("up to 220 °C", answer.Sentence, StringComparison.Ordinal);
        Assert.Contains("not shown for 230 °C", answer.Sentence, StringComparison.Ordinal);
        Assert.Contains("down to 200 °C", answer.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void The_figures_are_those_of_the_way_that_keeps_farther()
    {
        QuestionAnswer answer = Assert.Single(Keeps(new ComparisonOptions { ReferenceSetting = 220, KeepsPercent = 92 }));
        Assert.Equal((200m, TrendForms.Down), (answer.Setting, answer.Form));
        Assert.Null(answer.OtherWay!.Setting);
        Assert.Contains("upwards not shown for any setting", answer.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_reference_at_the_end_has_no_other_way_and_the_whole_level()
    {
        QuestionAnswer answer = Assert.Single(Keeps(new ComparisonOptions()));
        Assert.Equal((220m, 200m), (answer.Setting, answer.AgainstSetting));
        Assert.Null(answer.OtherWay);
        Assert.Contains("95 % confidence", answer.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_setting_that_may_be_the_strongest_says_so()
    {
        QuestionAnswer[] best = [.. Answers(new ComparisonOptions()).Where(a => a.Question == QuestionNames.BestSettings)];
        Assert.Equal(4, best.Length);
        Assert.Contains("210 may be the strongest setting: none was shown to be stronger", best[1].Sentence, StringComparison.Ordinal);
        Assert.Contains("230 is not the strongest setting", best[3].Sentence, StringComparison.Ordinal);
    }

    private static QuestionAnswer[] Keeps(ComparisonOptions options) => [.. Answers(options).Where(a => a.Question == QuestionNames.Keeps)];

    private static IReadOnlyList<QuestionAnswer> Answers(ComparisonOptions options) => QuestionAnswerer.Answer(
        [.. Strengths.SelectMany(s => s.Value.Select(v => new Observation(new GroupKey("Alder", "", s.Key), "one", v)))], options).Answers;
}
