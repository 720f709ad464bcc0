using RigDaq.Core.Groups;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Tests.Statistics.Questions;

/// <summary>Strengths that do not scatter: copied, rounded, or measured once and written several times.</summary>
public sealed class EqualStrengthsTest
{
    [Fact]
    public void Rows_written_three_times_have_no_scatter_of_specimens_and_that_is_said()
    {
        QuestionAnswers answers = Answer((_, _, _) => 0, copies: 3);
        Assert.Contains(answers.Warnings, w => w.Code == "answerSpecimensAllEqual");
        Assert.All(answers.Answers.Where(a => a.LogEstimate is not null), a => Assert.True(double.IsFinite(a.LogEstimate!.Value)));
        Assert.DoesNotContain(answers.Answers, a => a.About == Abouts.PrintsMadeAlike && a.LogStandardError is not null);

        // Once each they are one specimen a stretch, which the model holds.
        QuestionAnswers once = Answer((_, _, _) => 0, copies: 1);
        Assert.DoesNotContain(once.Warnings, w => w.Code == "answerSpecimensAllEqual");
        Assert.Contains(once.Answers,
            a => a is { Question: QuestionNames.Condition, About: Abouts.PrintsMadeAlike, LogStandardError: > 0 });
    }

    [Fact]
    public void A_group_without_scatter_among_others_is_warned_of_by_name_and_has_Welch_s_answer_beside()
    {
        QuestionAnswers answers = Answer((condition, setting, random) => condition == "off" && setting == 220 ? 0 : 1 + random.NextDouble(),
            copies: 4);
        Assert.Contains(answers.Warnings,
            w => w.AsKept().StartsWith("Alder, off, 220: the specimens of each print are all equal", StringComparison.Ordinal));
        Assert.Equal(
            [Abouts.PrintsMadeAlike, Abouts.ThesePrints],
                answers.Answers.Where(a => a is { Question: QuestionNames.Condition, Setting: 220 }).Select(a => a.About));
    }

    private static QuestionAnswers Answer(Func<string, decimal, Random, double> scatter, int copies)
    {
        var random = new Random(6);
        var rows = new List<Observation>();
        foreach (string condition in new[] { "on", "off" })
        {
            for (int print = 1; print <= 3; print++)
            {
                foreach (decimal setting in new[] { 200m, 220m, 240m })
                {
                    double level = 28 + random.NextDouble();
                    for (int copy = 0; copy < copies; copy++)
                        rows.Add(new Observation(new GroupKey("Alder", condition, setting), $"{condition} {print}",
                            level + (scatter(condition, setting, random) * (random.NextDouble() - .5))));
                }
            }
        }

        return QuestionAnswerer.Answer(rows, new ComparisonOptions());
    }
}
