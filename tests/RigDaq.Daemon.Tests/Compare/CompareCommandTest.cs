using System.Text.Json;
using RigDaq.App.Input;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Tests.Compare;

/// <summary>The command's reading of tables and its JSON. Figures: R 4.2's t.test on its data sets PlantGrowth and sleep.</summary>
public sealed class CompareCommandTest : IDisposable
{
    private const string Header = "material,condition,setting,strength_MPa\n";

    private const string Sleep = Header
        + "Alder,1,,0.7\nAlder,1,,-1.6\nAlder,1,,-0.2\nAlder,1,,-1.2\nAlder,1,,-0.1\nAlder,1,,3.4\nAlder,1,,3.7\nAlder,1,,0.8\nAlder,1,,0.0\nAlder,1,,2.0\n"
        + "Alder,2,,1.9\nAlder,2,,0.8\nAlder,2,,1.1\nAlder,2,,0.1\nAlder,2,,-0.1\nAlder,2,,4.4\nAlder,2,,5.5\nAlder,2,,1.6\nAlder,2,,4.6\nAlder,2,,3.4\n";

    private const string Plants = Header
        + "x,ctrl,1,4.17\nx,ctrl,1,5.58\nx,ctrl,1,5.18\nx,ctrl,1,6.11\nx,ctrl,1,4.50\nx,ctrl,1,4.61\nx,ctrl,1,5.17\nx,ctrl,1,4.53\nx,ctrl,1,5.33\nx,ctrl,1,5.14\n"
        + "x,trt1,1.0,4.81\nx,trt1,1,4.17\nx,trt1,1,4.41\nx,trt1,1,3.59\nx,trt1,1,5.87\nx,trt1,1,3.83\nx,trt1,1,6.03\nx,trt1,1,4.89\nx,trt1,1,4.32\nx,trt1,1,4.69\n"
        + "x,trt2,1,6.31\nx,trt2,1,5.12\nx,trt2,1,5.54\nx,trt2,1,5.50\nx,trt2,1,5.37\nx,trt2,1,5.29\nx,trt2,1,4.92\nx,trt2,1,6.15\nx,trt2,1,5.80\nx,trt2,1,5.26\n";

    private readonly string _file = Path.Combine(Path.GetTempPath(), $"rigdaq-compare-{Guid.NewGuid():N}.csv");

    public void Dispose() => File.Delete(_file);

    // Whoever adds a question is told of its heading here.
    [Fact]
    public void Every_question_has_a_heading() =>
        Assert.All(QuestionNames.All, question => Assert.NotEqual(question, TerminalText.CompareQuestionHead(question)));

    [Fact]
    public void The_sleep_data_give_R_s_figures_in_the_promised_names()
    {
        JsonElement answer = Json(Sleep, new ComparisonOptions { ReferenceCondition = "1" });
        JsonElement c = answer.GetProperty("comparisons")[0];
        Assert.Equal(1.8608134674868531, c.GetProperty("t").GetDouble(), 10);
        Assert.Equal(17.7764735161784984, c.GetProperty("degreesOfFreedom").GetDouble(), 9);
        Assert.Equal(0.0793941401873582, c.GetProperty("p").GetDouble(), 10);
        Assert.Equal(JsonValueKind.Null, c.GetProperty("percentLow").ValueKind);
        Assert.Equal(JsonValueKind.Null, c.GetProperty("setting").ValueKind);
        foreach (string name in "material setting condition reference difference low high percent percentLow percentHigh t degreesOfFreedom p pAdjusted pEquivalence resolvable method verdict".Split(' '))
            Assert.True(c.TryGetProperty(name, out _), name);
        JsonElement g = answer.GetProperty("groups")[0];
        foreach (string name in "material condition setting n prints mean standardDeviation variationPercent low high median minimum maximum grubbs".Split(' '))
            Assert.True(g.TryGetProperty(name, out _), name);
        foreach (string name in "value statistic critical outlying".Split(' ')) Assert.True(g.GetProperty("grubbs")
            .TryGetProperty(name, out _), name);
    }

    [Fact]
    public void PlantGrowth_gives_three_pairs_with_Holm_over_them_and_settings_equal_by_value()
    {
        JsonElement answer = Json(Plants, new ComparisonOptions());
        Assert.Equal(3, answer.GetProperty("groups").GetArrayLength());
        Assert.Equal([0.2503825086, 0.0957985112, 0.0278952142],
            answer.GetProperty("comparisons").EnumerateArray().Select(c => Math.Round(c.GetProperty("pAdjusted").GetDouble(), 10)));
    }

    [Theory]
    [InlineData("Alder,on,210,\"38,1\"\n", "line 2", "strength_MPa", "decimal point")]
    [InlineData("Alder,on,210,38,1\n", "line 2", "decimal comma")]
    [InlineData("Alder,on,210,\n", "line 2", "strength_MPa", "empty")]
    [InlineData("Alder,on,210,NaN\n", "line 2", "strength_MPa", "finite")]
    [InlineData("Alder,on,210,1e30\n", "line 2", "strength_MPa", "MPa")]
    [InlineData("Alder,on,\"210,5\",38\n", "line 2", "setting", "decimal")]
    [InlineData("", "no rows")]
    public void A_wrong_cell_is_named_by_line_and_column(string rows, params string[] expected)
    {
        InputException fault = Assert.Throws<InputException>(() => Run(Header + rows, new ComparisonOptions()));
        Assert.All([_file, .. expected], part => Assert.Contains(part, fault.Message, StringComparison.Ordinal));
    }

    [Fact]
    public void An_absent_reference_names_the_conditions_that_are_there()
    {
        InputException fault = Assert.Throws<InputException>(() => Run(Plants, new ComparisonOptions { ReferenceCondition = "control" }));
        Assert.Contains("“ctrl”", fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0, 95, "--margin")]
    [InlineData(5, 100, "--confidence")]
    [InlineData(double.NaN, 95, "--margin")]
    public void Options_out_of_range_are_named(double margin, double confidence, string name)
        => Assert.Contains(name, Assert.Throws<InputException>(() =>
        Run(Plants, new ComparisonOptions { MarginPercent = margin, ConfidencePercent = confidence })).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("Alder,on,210,38\nAlder,off,210,40\nAlder,off,210,41\n", "one specimen only")]
    [InlineData("Alder,on,210,38\nAlder,on,210,38\nAlder,off,210,40\nAlder,off,210,40\n", "neither group scatters")]
    [InlineData("Alder,on,210,38\nAlder,on,210,39\nAlder,off,210,40\nAlder,off,210,41\nAlder,off,230,41\n", "settings are unequal")]
    [InlineData("Alder,on,210,38\nalder,on,210,39\n", "“alder”")]
    [InlineData("Alder,on,210,-38\nAlder,on,210,39\n", "not above 0")]
    [InlineData("Alder,,210,38\nAlder,on,210,39\n", "the condition is empty")]
    public void What_looks_wrong_is_a_warning_and_the_answer_has_no_NaN(string rows, string expected)
    {
        JsonElement answer = Json(Header + rows, new ComparisonOptions());
        Assert.Contains(answer.GetProperty("warnings").EnumerateArray(), w => w.GetString()!.Contains(expected, StringComparison.Ordinal));
        Assert.DoesNotContain("NaN", answer.GetRawText(), StringComparison.Ordinal);
    }

    [Fact]
    public void Prints_are_unique_within_a_group_and_make_the_print_mean_the_datum()
    {
        const string Rows = "material,condition,setting,print,strength_MPa\n"
            + "Alder,on,210,a,38\nAlder,on,210,a,39\nAlder,on,210,b,40\nAlder,on,210,b,41\nAlder,off,210,a,44\nAlder,off,210,b,46\n";
        JsonElement answer = Json(Rows, new ComparisonOptions { ReferenceCondition = "on" });
        JsonElement c = answer.GetProperty("comparisons")[0];
        Assert.Equal("prints", c.GetProperty("method").GetString());
        Assert.Equal(2, c.GetProperty("degreesOfFreedom").GetDouble());
        Assert.Equal(5.5, c.GetProperty("difference").GetDouble(), 12);
    }

    // 1 psi = 6894.757 Pa (NIST SP 811, appendix B.8).
    [Fact]
    public void For_people_the_table_and_the_sentences_follow_the_chosen_unit_and_figures_for_machines_do_not()
    {
        var psi = new ComparisonOptions { Units = Core.Quantities.Units.Of("N", "psi", "mm")! };
        ComparisonAnswer said = Run(Plants, psi), plain = Run(Plants, new ComparisonOptions());
        Assert.Equal(plain.Groups[0].Mean, said.Groups[0].Mean);
        using var text = new StringWriter();
        CompareText.Write(said, psi, text);
        Assert.Contains("mean psi", text.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("MPa", text.ToString(), StringComparison.Ordinal);
        // The control's mean of 5.032 MPa is 729.8 psi, its half-width of 0.417 MPa 60 psi: tens are what is known.
        Assert.Contains("  730  ", text.ToString(), StringComparison.Ordinal);
        Assert.Contains("670 to 790", text.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void People_get_a_table_and_a_sentence()
    {
        var text = new StringWriter();
        var options = new ComparisonOptions { ReferenceCondition = "ctrl" };
        CompareText.Write(Run(Plants, options), options, text);
        Assert.Contains("x, ctrl, 1", text.ToString(), StringComparison.Ordinal);
        Assert.Contains("no difference between trt1 and ctrl was shown", text.ToString(), StringComparison.Ordinal);
    }

    private const string Stretches = "material,condition,setting,print,strength_MPa,manner,outcome,reason\n"
        + "Alder,on,210,a,38,brittle,,\nAlder,on,210,a,39,brittle,,\nAlder,on,210,b,40,drawn,,\nAlder,on,210,b,41,brittle,,\n"
        + "Alder,on,230,a,35,drawn,broken,\nAlder,on,230,a,34,drawn,,\nAlder,on,230,b,37,drawn,,\nAlder,on,230,b,36.5,drawn,,\n"
        + "Alder,off,210,a,44,brittle,,\nAlder,off,210,a,46,brittle,,\nAlder,off,210,c,45,brittle,,\nAlder,off,210,c,43,brittle,,\n"
        + "Alder,off,230,a,,,could not be printed,warped\nAlder,off,230,c,39,drawn,,\nAlder,off,230,c,40,drawn,,\n";

    [Fact]
    public void A_print_may_hold_several_settings_and_the_questions_are_answered_in_the_promised_names()
    {
        JsonElement answer = Json(Stretches, new ComparisonOptions { ReferenceCondition = "on" });
        JsonElement model = answer.GetProperty("model");
        foreach (string name in "scale printStandardDeviationPercent printSettingStandardDeviationPercent specimenStandardDeviationPercent prints printScatterFrom".Split(' '))
            Assert.True(model.TryGetProperty(name, out _), name);
        Assert.Equal(4, model.GetProperty("prints").GetInt32());
        Assert.Equal("this study", model.GetProperty("printScatterFrom").GetString());
        JsonElement[] answers = [.. answer.GetProperty("answers").EnumerateArray()];
        foreach (string name in ("question material condition setting againstMaterial againstCondition againstSetting percent percentLow percentHigh logEstimate logStandardError "
            + "degreesOfFreedom p pAdjusted pEquivalence verdict about sentence").Split(' '))
            Assert.All(answers, a => Assert.True(a.TryGetProperty(name, out _), name));
        Assert.Equal(
            ["condition", "condition average", "condition trend", "drop-off", "drop-off difference", "keeps", "best settings",
                "equivalence profile", "share", "not printable"],
            answers.Select(a => a.GetProperty("question").GetString()).Distinct());
        string[] warnings = [.. answer.GetProperty("warnings").EnumerateArray().Select(w => w.GetString()!)];
        Assert.Contains(warnings, w => w.Contains("one print with a stretch at each", StringComparison.Ordinal));
        Assert.Contains(warnings, w => w.Contains("“a”", StringComparison.Ordinal)
            && w.Contains("different prints", StringComparison.Ordinal));
        JsonElement failed = answers.Single(a => a.GetProperty("question").GetString() == "not printable");
        Assert.Equal("Alder, off, 230: 1 of 2 prints failed (warped).", failed.GetProperty("sentence").GetString());
    }

    [Fact]
    public void Separate_prints_make_every_stretch_a_print_of_its_own() =>
        Assert.Equal(7, Json(Stretches, new ComparisonOptions { SeparatePrints = true }).GetProperty("model").GetProperty("prints")
            .GetInt32());

    [Theory]
    [InlineData("Alder,on,210,a,38,,could not be printed,\n", "strength_MPa")]
    [InlineData("Alder,on,210,a,38,,slipped,\n", "outcome")]
    [InlineData("Alder,on,210,a,,,could not be printed,\n", "no row has a strength")]
    public void An_outcome_that_does_not_fit_is_named(string row, string expected) => Assert.Contains(
        expected,
            Assert.Throws<InputException>(() => Run("material,condition,setting,print,strength_MPa,manner,outcome,reason\n" + row,
            new ComparisonOptions())).Message, StringComparison.Ordinal);

    [Fact]
    public void Questions_are_chosen_by_name_and_a_misspelt_one_is_named()
    {
        Assert.Equal(["keeps", "share"], CompareOptions.Questions("keeps, share"));
        Assert.Null(CompareOptions.Questions("all"));
        Assert.Contains("“keep”", Assert.Throws<InputException>(() => CompareOptions.Questions("keep")).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_earlier_table_is_set_against_this_one()
    {
        string earlier = _file + ".earlier.csv";
        try
        {
            File.WriteAllText(earlier, Stretches);
            File.WriteAllText(_file, Stretches);
            ComparisonAnswer answer = CompareCommand.Compare(_file,
                new ComparisonOptions { Questions = ["earlier study"], CalibrationPercent = 0.3 }, new EarlierTables([earlier], 0.4, true));
            Assert.Equal(4, answer.Answers.Count(a => a.About == "prints made alike" && a.Setting is not null));
            Assert.Equal(2, answer.Answers.Count(a => a.About == "prints made alike" && a.Setting is null));
            Assert.All(answer.Answers, a => Assert.Equal(0, a.LogEstimate!.Value, 12));
            Assert.All(answer.Answers, a => Assert.Contains("a control piece was pulled in both", a.Sentence, StringComparison.Ordinal));
        }
        finally
        {
            File.Delete(earlier);
        }
    }

    private ComparisonAnswer Run(string table, ComparisonOptions options)
    {
        File.WriteAllText(_file, table);
        return CompareCommand.Compare(_file, options);
    }

    private JsonElement Json(string table, ComparisonOptions options)
        => JsonSerializer.SerializeToElement(Run(table, options), JsonAnswer.Options);
}
