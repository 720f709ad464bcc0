using System.Globalization;
using System.Runtime.CompilerServices;
using RigDaq.Core.Groups;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Text;

namespace RigDaq.Core.Tests.Statistics.Earlier;

/// <summary>A study against earlier ones, and the scatter that it takes from them, against R's lme4 and pbkrtest
/// (tools/reference/earlier.R).</summary>
public class EarlierStudyTest
{
    private static readonly GroupKey Control = new("Kept", "fan off", 220);

    private static readonly EarlierStudy[] Both = [Earlier("earlier-1"), Earlier("earlier-2")];

    [Fact]
    public void The_scatter_of_earlier_studies_is_one_fit_to_all_of_them()
    {
        (KnownScatter? print, KnownScatter? stretch) = EarlierScatter.Of(Both, new ComparisonOptions());
        foreach (var (known, row) in new[] { print!, stretch! }.Zip(Rows("scatter")))
        {
            Assert.InRange(known.Percent * known.Percent / 1e4 / Number(row[1]) - 1, -1e-6, 1e-6);
            Assert.InRange(known.VarianceOfVariance!.Value / Number(row[2]) - 1, -1e-6, 1e-6);
            Assert.Equal(ScatterSources.EarlierStudies, known.From);
        }

        // 5 and 2 materials × conditions of three and four prints.
        Assert.Equal(5 * 2 + 2 * 3, print!.DegreesOfFreedom);
    }

    [Fact]
    public void One_print_of_each_takes_the_scatter_of_earlier_studies_and_says_so()
    {
        QuestionAnswers answers = QuestionAnswerer.Answer(Now,
            new ComparisonOptions { Earlier = Both, ReferenceCondition = "fan off", Control = Control });
        Assert.Equal((ScatterSources.EarlierStudies, 16), (answers.Model!.PrintScatterFrom, answers.Model.PrintDegreesOfFreedom));
        foreach (string[] row in Rows("answers").Where(row => row[0] is "condition" or "drop-off"))
        {
            QuestionAnswer answer = answers.Answers.First(a => a.Question == row[0] && a.Material == row[1] && a.Condition == row[2]
                && a.Setting == Number(row[3], null));
            Same(row, answer);
            Assert.Contains("with the scatter between prints of earlier studies", answer.Sentence, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("plain", false)]
    [InlineData("average", false)]
    [InlineData("corrected", true)]
    [InlineData("corrected average", true)]
    public void A_group_is_set_against_that_of_the_earlier_study(string which, bool control)
    {
        EarlierStudy[] both =
            [Both[0] with
            { Control = control ? Control : null,
            Observations = [.. Both[0].Observations.Select(o => o with { CalibrationId = "then", CalibrationPercent = 0.3 })] }, Both[1]];
        Observation[] now = [.. Now.Select(o => o with { CalibrationId = "now", CalibrationPercent = 0.4 })];
        QuestionAnswers answers = QuestionAnswerer.Answer(now,
            new ComparisonOptions { Earlier = both, Control = control ? Control : null, Questions = [QuestionNames.EarlierStudy] });
        foreach (string[] row in Rows("answers").Where(row => row[0] == which))
        {
            QuestionAnswer answer = answers.Answers.Single(a => a.AgainstStudy == "earlier-1" && a.Material == row[1]
                && a.Condition == row[2] && a.Setting == Number(row[3], null) && a.About == Abouts.PrintsMadeAlike);
            Same(row, answer);
            Assert.Equal(control, answer.CorrectedByControl);
            Assert.Equal(control, answer.Sentence.Contains("the change of the control (Kept, fan off, 220), pulled in both, is taken off",
                StringComparison.Ordinal));
        }
    }

    [Fact]
    public void The_control_itself_is_compared_as_it_is_and_takes_no_part_in_other_questions()
    {
        EarlierStudy earlier = Both[0] with { Control = Control };
        IReadOnlyList<QuestionAnswer> answers = QuestionAnswerer.Answer(Now,
            new ComparisonOptions { Earlier = [earlier], Control = Control }).Answers;
        QuestionAnswer control = answers.First(a => a.Question == QuestionNames.EarlierStudy && a.Material == "Kept");
        Assert.False(control.CorrectedByControl);
        Assert.Contains("this is the control", control.Sentence, StringComparison.Ordinal);
        Assert.DoesNotContain(answers, a => a.Question is not (QuestionNames.EarlierStudy or QuestionNames.Share)
            && (a.Material == "Kept" || a.AgainstMaterial == "Kept"));
    }

    [Fact]
    public void One_calibration_cancels_two_are_added_and_an_unknown_one_is_said()
    {
        EarlierStudy earlier = Both[0];
        double Variance(string id, double? percent, out IReadOnlyList<Sentence> warnings)
        {
            EarlierStudy then = earlier with
            { Observations = [.. earlier.Observations.Select(o => o with { CalibrationId = "one", CalibrationPercent = 0.5 })] };
            QuestionAnswers answers = QuestionAnswerer.Answer(
                [.. Now.Select(o => o with { CalibrationId = id, CalibrationPercent = percent })],
                    new ComparisonOptions { Earlier = [then], Questions = [QuestionNames.EarlierStudy] });
            warnings = answers.Warnings;
            return Math.Pow(answers.Answers[0].LogStandardError!.Value, 2);
        }

        double shared = Variance("one", 0.5, out IReadOnlyList<Sentence> none);
        Assert.DoesNotContain(none, w => w.AsKept().Contains("calibration", StringComparison.Ordinal));
        Assert.Equal((0.5 * 0.5 + 0.7 * 0.7) / 1e4, Variance("another", 0.7, out _) - shared, 1e-9);

        // The same calibration twice: what is off then is off now, whatever it is.
        Assert.Equal(0.2 * 0.2 / 1e4, Variance("one", 0.7, out _) - shared, 1e-9);
        Variance("another", null, out IReadOnlyList<Sentence> unknown);
        Assert.Contains(unknown, w => w.Code == "answerEarlierCalibrationUnknown");
    }

    [Fact]
    public void Imported_strengths_are_marked_in_the_answer_and_its_sentence()
    {
        Observation[] now = [.. Now.Select(o => o with { IsImported = o.Group.Material == "Birch" })];
        IReadOnlyList<QuestionAnswer> answers = QuestionAnswerer.Answer(now, new ComparisonOptions { Earlier = [Both[0]] }).Answers;
        QuestionAnswer birch = answers.First(a => a.Question == QuestionNames.DropOff && a.Material == "Birch"),
            alder = answers.First(a => a.Question == QuestionNames.DropOff && a.Material == "Alder");
        int behind = now.Count(o => o.Group.Material == "Birch" && o.Group.Condition == birch.Condition
            && (o.Group.Setting == birch.Setting || o.Group.Setting == birch.AgainstSetting));
        Assert.Equal(behind, birch.Imported);
        Assert.EndsWith($"{behind} of the {behind} strengths behind it were imported, without a trace.", birch.Sentence,
            StringComparison.Ordinal);
        Assert.Null(alder.Imported);
        Assert.DoesNotContain("imported", alder.Sentence, StringComparison.Ordinal);
        QuestionAnswer earlier = answers.First(a => a.Question == QuestionNames.EarlierStudy && a.Material == "Birch" && a.Setting == 200);
        Assert.Equal(now.Count(o => o.Group == new GroupKey("Birch", earlier.Condition!, 200)), earlier.Imported);
    }

    [Fact]
    public void Another_bench_is_warned_of_where_no_control_takes_it_off()
    {
        EarlierStudy elsewhere = Both[0] with { FromElsewhere = true };
        Assert.Contains(Warnings(elsewhere), w => w.Code == "answerEarlierOtherBench");
        Assert.DoesNotContain(Warnings(Both[0]), w => w.Code == "answerEarlierOtherBench");

        static IReadOnlyList<Sentence> Warnings(EarlierStudy earlier) =>
            QuestionAnswerer.Answer(Now, new ComparisonOptions { Earlier = [earlier], Questions = [QuestionNames.EarlierStudy] }).Warnings;
    }

    [Fact]
    public void The_scatter_of_an_earlier_study_can_be_switched_off()
    {
        QuestionModel model = QuestionAnswerer.Answer(Now,
            new ComparisonOptions { Earlier = [.. Both.Select(b => b with { GivesScatter = false })] }).Model!;
        Assert.Null(model.PrintScatterFrom);
        Assert.Null(model.PrintStandardDeviationPercent);
    }

    private static readonly Observation[] Now = Table("now");

    private static EarlierStudy Earlier(string name) => new() { Name = name, Observations = Table(name) };

    private static Observation[] Table(string name)
        => [.. Rows(name).Select(r => new Observation(new GroupKey(r[0], r[1], Number(r[2], null)), r[3], Number(r[4])))];

    private static void Same(string[] row, QuestionAnswer answer)
    {
        double error = Number(row[8]), half = StudentT.TwoSidedQuantile(0.05, answer.DegreesOfFreedom!.Value)
            * answer.LogStandardError!.Value;
        Assert.InRange((answer.LogEstimate!.Value - Number(row[7])) / error, -1e-6, 1e-6);
        Assert.InRange(answer.LogStandardError.Value / error - 1, -1e-6, 1e-6);
        Assert.InRange(answer.DegreesOfFreedom.Value / Number(row[9]) - 1, -1e-6, 1e-6);
        Assert.InRange((answer.LogEstimate.Value - half - Number(row[10])) / error, -1e-6, 1e-6);
        Assert.InRange((answer.LogEstimate.Value + half - Number(row[11])) / error, -1e-6, 1e-6);
    }

    private static IEnumerable<string[]> Rows(string name)
        => File.ReadLines(Path.Combine(Here(), "tables", $"{name}.csv")).Skip(1).Select(line => line.Split(','));

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static decimal? Number(string text, decimal? none)
        => text.Length == 0 ? none : decimal.Parse(text, CultureInfo.InvariantCulture);

    private static string Here([CallerFilePath] string file = "") => Path.GetDirectoryName(file)!;
}
