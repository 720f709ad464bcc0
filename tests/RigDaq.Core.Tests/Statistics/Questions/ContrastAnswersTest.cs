using RigDaq.Core.Comparisons;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Core.Tests.Statistics.Mixed;

namespace RigDaq.Core.Tests.Statistics.Questions;

/// <summary>The answers that are contrasts, against R's emmeans and pbkrtest (tools/reference/mixed-model.R), by name.</summary>
public sealed class ContrastAnswersTest
{
    public static TheoryData<string> Tables => [.. ReferenceTable.Names];

    [Theory]
    [MemberData(nameof(Tables))]
    public void Every_contrast_of_R_is_an_answer_with_its_figures(string name)
    {
        ComparisonAnswer answer = Comparer.Compare(ReferenceTable.Observations(name), new ComparisonOptions());
        foreach (ReferenceAnswer r in ReferenceTable.Answers(name))
        {
            string question = r.Question.StartsWith("condition trend", StringComparison.Ordinal) ? QuestionNames.ConditionTrend
                : r.Question;
            QuestionAnswer[] found =
                [.. answer.Answers.Where(a => a.Question == question && a.Material == r.Material && a.Condition == r.Condition
                && a.Setting == r.Setting && a.AgainstSetting == r.AgainstSetting && (a.AgainstMaterial ?? "") == r.AgainstMaterial
                && (a.AgainstCondition ?? "") == r.AgainstCondition && a.About == Abouts.PrintsMadeAlike
                && (question != QuestionNames.ConditionTrend
                    || a.Form == (r.Question.EndsWith("slope", StringComparison.Ordinal) ? TrendForms.Slope
                    : TrendForms.LastAgainstFirst)))];
            QuestionAnswer one = Assert.Single(found);
            Assert.InRange((one.LogEstimate!.Value - r.Estimate) / r.StandardError, -1e-6, 1e-6);
            Assert.InRange(one.LogStandardError!.Value / r.StandardError - 1, -1e-6, 1e-6);
            Assert.InRange(one.DegreesOfFreedom!.Value / r.DegreesOfFreedom - 1, -1e-6, 1e-6);
            Assert.InRange((Math.Log(1 + one.PercentLow!.Value / 100) - r.Low) / r.StandardError, -1e-6, 1e-6);
            Assert.InRange((Math.Log(1 + one.PercentHigh!.Value / 100) - r.High) / r.StandardError, -1e-6, 1e-6);
        }
    }
}
