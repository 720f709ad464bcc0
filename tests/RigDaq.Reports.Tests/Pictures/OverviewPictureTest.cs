using RigDaq.Core.Comparisons;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Reports.Model;
using RigDaq.Reports.Pictures;

namespace RigDaq.Reports.Tests.Pictures;

/// <summary>The pictures that answer over all materials and settings: what stands on them, and that all of it stands on them.</summary>
public sealed class OverviewPictureTest
{
    private static readonly StudyReportModel Model = WithFailure(ExampleStudy.Model(withVoids: false));
    private static readonly IReadOnlyList<Picture> All = StudyPictures.Of(Model);

    [Theory]
    [InlineData("strength")]
    [InlineData("strength-by-condition")]
    [InlineData("strength-birch")]
    [InlineData("change-by-setting")]
    [InlineData("retained")]
    [InlineData("retained-birch")]
    public void What_could_not_be_printed_is_marked_at_its_setting(string name)
    {
        IReadOnlyList<SvgText> texts = SvgText.Of(Named(name).ToSvg(PictureStyle.Page));
        SvgText tick = texts.Last(text => text.Text == "250");
        SvgText mark = texts.Last(text => text.Text == "be printed");
        Assert.InRange(Middle(mark), Middle(tick) - 12, Middle(tick) + 12);
    }

    [Theory]
    [InlineData("change")]
    [InlineData("beats-fan-off")]
    public void Where_no_axis_of_settings_is_it_is_said(string name) =>
        Assert.Contains("Birch could not be printed at 250 °C", Said(Named(name), PictureStyle.Page), StringComparison.Ordinal);

    [Fact]
    public void Panels_have_the_same_axes_and_name_what_they_show()
    {
        foreach ((string name, string[] panels, string[] series) in ((string, string[], string[])[])
            [("strength", ["Alder", "Birch"], ["fan off", "fan on"]), ("strength-by-condition", ["fan off", "fan on"], ["Alder", "Birch"])])
        {
            IReadOnlyList<SvgText> texts = SvgText.Of(Named(name).ToSvg(PictureStyle.Page));
            Assert.All(panels.Concat(series), word => Assert.Contains(texts, text => text.Text == word));
            // Each setting once a panel, at the same distance in each: they stand at their values.
            double[][] places =
                [.. new[] { "205", "220", "235", "250" }.Select(setting => texts.Where(text => text.Text == setting).Select(Middle).Order()
                .ToArray())];
            Assert.All(places, of => Assert.Equal(2, of.Length));
            for (int panel = 0; panel < 2; panel++)
            {
                double step = places[1][panel] - places[0][panel];
                Assert.Equal(step, places[2][panel] - places[1][panel], 0.5);
                Assert.Equal(step, places[3][panel] - places[2][panel], 0.5);
            }

            Assert.Equal(places[1][0] - places[0][0], places[1][1] - places[0][1], 0.5);
        }
    }

    // Values are those of the table of groups; on request only.
    [Fact]
    public void Values_stand_at_the_means_where_they_are_asked_for()
    {
        ComparisonAnswer answer = Model.Answer.Answer!;
        GroupStatistics[] alder = [.. answer.Groups.Where(group => group.Material == "Alder")];
        string[] with = [.. SvgText.Of(Named("strength-alder").ToSvg(PictureStyle.Page with { Values = true })).Select(text => text.Text)];
        string[] without = [.. SvgText.Of(Named("strength-alder").ToSvg(PictureStyle.Page)).Select(text => text.Text)];
        Assert.Equal(without.Length + alder.Length, with.Length);
        // With as many digits as their intervals allow.
        Assert.All(alder,
            group
            =>
            Assert.Contains(with,
            text => text == NumberText.Of(group.Mean, NumberText.Decimals((group.High!.Value - group.Low!.Value) / 2))));
    }

    // Figures of neighbouring series once stood beside their means and covered each other; those of two series stand above and below.
    [Theory]
    [InlineData("strength", "16:9")]
    [InlineData("strength", "9:16")]
    [InlineData("strength", "1:1")]
    [InlineData("strength-by-condition", "9:16")]
    [InlineData("strength-alder", "9:16")]
    [InlineData("change-by-setting", "16:9")]
    [InlineData("change-by-setting", "9:16")]
    public void Values_keep_clear_of_each_other_and_of_the_axes(string name, string ratio)
    {
        PictureStyle style = StyleOf(ratio);
        SvgText[] with = [.. SvgText.Of(Named(name).ToSvg(style with { Values = true }))],
            without = [.. SvgText.Of(Named(name).ToSvg(style))];
        SvgText frame = without.First(text => text.Upright);
        SvgText[] values =
            [.. with.Where(text => text.Text.Any(char.IsAsciiDigit) && text.Text.Length < 7 && text.Left > frame.Right + (45 * style.Scale))
            .Where(text => !without.Any(other => other.Text == text.Text && Math.Abs(other.Left - text.Left) < 1))];
        Assert.NotEmpty(values);
        for (int i = 0; i < values.Length; i++)
        {
            for (int j = 0; j < i; j++)
            {
                bool apart = values[i].Left >= values[j].Right - style.Scale || values[j].Left >= values[i].Right - style.Scale
                    || values[i].Top >= values[j].Bottom || values[j].Top >= values[i].Bottom;
                Assert.True(apart, $"{values[i]} covers {values[j]}");
            }
        }
    }

    private static PictureStyle StyleOf(string ratio) =>
        ratio switch
        {
            "16:9" => PictureStyle.Wide,
            "9:16" => PictureStyle.Upright,
            "1:1" => PictureStyle.Square,
            _ => PictureStyle.Page with { Titled = true }
        };

    public static TheoryData<string, string> Drawn()
    {
        var drawn = new TheoryData<string, string>();
        foreach (Picture picture in All)
            foreach (string ratio in (string[])["page", "16:9", "9:16", "1:1"]) drawn.Add(picture.Name, ratio);
        return drawn;
    }

    // A phone held upright is 540 page pixels wide: notes and legends go into several lines there.
    [Theory]
    [MemberData(nameof(Drawn))]
    public void All_type_stands_within_the_margin_and_no_two_on_one_line_run_into_each_other(string name, string ratio)
    {
        PictureStyle style = StyleOf(ratio);
        IReadOnlyList<SvgText> texts = SvgText.Of(Named(name).ToSvg(style));
        double margin = style.MarginShare * Math.Min(style.WidthPixels, style.HeightPixels), air = 2 * style.Scale;
        Assert.All(texts, text => Assert.True(
            text.Left > margin - air && text.Right < style.WidthPixels - margin + (4 * style.Scale),
                $"{text} leaves the {style.WidthPixels} pixels"));
        foreach (var line in texts.Where(text => !text.Upright).GroupBy(text => Math.Round(text.Bottom)))
        {
            SvgText[] row = [.. line.OrderBy(text => text.Left)];
            for (int i = 1; i < row.Length; i++) Assert.True(row[i].Left > row[i - 1].Right - (5 * style.Scale),
                $"{row[i - 1]} runs into {row[i]}");
        }
    }

    [Fact]
    public void Every_series_is_in_the_legend_of_a_picture_for_a_phone()
    {
        string said = Said(Named("retained"), PictureStyle.Upright);
        foreach (string series in (string[])["Alder, fan off, n = 18", "Alder, fan on, n = 18", "Birch, fan off, n = 18",
            "Birch, fan on, n = 18"]) Assert.Contains(series, said, StringComparison.Ordinal);
        Assert.Contains("virtual rig: no measurement", said, StringComparison.Ordinal);
    }

    [Fact]
    public void A_series_of_pictures_reveals_one_group_after_another_on_the_same_axes()
    {
        Picture picture = Named("strength");
        Assert.Equal(4, picture.Steps); // Two conditions of two materials.
        string[] steps =
            [.. Enumerable.Range(0, picture.Steps + 1).Select(step => picture.ToSvg(PictureStyle.Page with { Reveal = step }))];
        int[] shapes = [.. steps.Select(svg => System.Text.RegularExpressions.Regex.Count(svg, "<(path|circle|rect|ellipse)"))];
        Assert.Equal(shapes.Order(), shapes);
        Assert.Equal(shapes.Length, shapes.Distinct().Count()); // Each step shows something new.
        string[] Ticks(string svg)
            => [.. SvgText.Of(svg).Where(text => text.Text.All(char.IsDigit)).Select(text => $"{text.Text} {text.Left:0} {text.Bottom:0}")];
        Assert.All(steps, svg => Assert.Equal(Ticks(steps[^1]), Ticks(svg)));
        Assert.Equal(SvgText.Of(picture.ToSvg(PictureStyle.Page)), SvgText.Of(steps[^1])); // The last is the whole picture.
    }

    [Fact]
    public void Own_title_stands_instead_of_the_pictures()
    {
        string said =
            Said(Named("strength"), PictureStyle.Upright with
            { OwnTitle = "How hot may it be, and does the fan matter to the two filaments that we print with?" });
        Assert.DoesNotContain("Strength against", said, StringComparison.Ordinal);
        Assert.Contains("print with?", said, StringComparison.Ordinal);
    }

    // A run that a person stopped broke nothing: its force is no strength, and its trace is in no picture of its group.
    [Fact]
    public void A_stopped_run_is_in_no_picture_of_its_group()
    {
        StudyReportModel model = ExampleStudy.Model(withVoids: false);
        string stopped = model.Runs.First(run => model.Traces.Any(trace => trace.RunId == run.Head.RunId)).Head.RunId;
        StudyReportModel without = StudyReportModel.Create(
            model.Study,
                [.. model.Runs.Select(run => run.Head.RunId == stopped ? run with { Ending = PullEnding.Stopped, Strength = null } : run)],
                model.Calibrations, model.WrittenAt, model.Version, model.Traces);
        Picture before = StudyPictures.Of(model).Single(picture => picture.Name == "traces-alder-220-c"),
            after = StudyPictures.Of(without).Single(picture => picture.Name == "traces-alder-220-c");
        int Paths(Picture picture) => System.Text.RegularExpressions.Regex.Count(picture.ToSvg(PictureStyle.Page), "<path");
        Assert.True(Paths(after) < Paths(before));
        Assert.Contains("n = 5", Said(StudyPictures.Of(without).Single(picture => picture.Name == "strength-alder"), PictureStyle.Page),
            StringComparison.Ordinal);
    }

    private static Picture Named(string name) => All.Single(picture => picture.Name == name);

    private static string Said(Picture picture, PictureStyle style)
        => "\n" + string.Join("\n", SvgText.Of(picture.ToSvg(style)).Select(text => text.Text)) + "\n";

    private static double Middle(SvgText text) => (text.Left + text.Right) / 2;

    private static StudyReportModel WithFailure(StudyReportModel model) => StudyReportModel.Create(
        model.Study with
        {
            Prints =
            [
                .. model.Study.Prints,
                .. new[]
                    { "fan off", "fan on" }.Select(fan => new Print
                    { Id = "B250 " + fan, Material = "Birch", Condition = fan,
                    Stretches = [new Stretch { Setting = 250, Failure = new PrintFailure("foamed", 3) }] }),
            ],
        },
        model.Runs, model.Calibrations, model.WrittenAt, model.Version, model.Traces);
}
