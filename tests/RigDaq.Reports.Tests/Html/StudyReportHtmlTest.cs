using System.Net;
using System.Text.RegularExpressions;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Reports.Html;
using RigDaq.Reports.Model;

namespace RigDaq.Reports.Tests.Html;

public sealed partial class StudyReportHtmlTest
{
    private static readonly string Example = StudyReportHtml.Render(ExampleStudy.Model());

    [Fact]
    public void Says_the_claim_before_everything_else()
    {
        string html = Example;
        int claim = html.IndexOf("Alder: fan on against fan off", StringComparison.Ordinal);
        Assert.InRange(claim, 0, html.IndexOf("<svg", StringComparison.Ordinal));
        Assert.InRange(html.IndexOf("Nothing here was measured", StringComparison.Ordinal), 0, claim);
    }

    [Fact]
    public void Gives_the_mean_the_deviation_and_the_number_of_each_group()
    {
        StudyReportModel model = ExampleStudy.Model(withVoids: false);
        string html = StudyReportHtml.Render(model);
        // Computed here a second way, from the runs.
        double[] strengths = [.. model.Runs.Where(run => run.Head.SpecimenId.StartsWith("Bf220", StringComparison.Ordinal))
            .Select(run => run.Strength!.Megapascals)];
        double mean = strengths.Sum() / strengths.Length;
        double deviation = Math.Sqrt(strengths.Sum(value => (value - mean) * (value - mean)) / (strengths.Length - 1));
        Match row = Regex.Match(html, "<th scope=\"row\">Birch, fan off, 220 °C</th>(<td[^>]*>[^<]*</td>)+");
        string[] cells = [.. Regex.Matches(row.Value, "<td[^>]*>([^<]*)</td>").Select(cell => cell.Groups[1].Value)];
        Assert.Equal("6", cells[0]);
        Assert.Equal(mean.ToString("F1", System.Globalization.CultureInfo.InvariantCulture), cells[2]);
        // Six values know their deviation to a third of it (JCGM 100, table E.1: 32 %): one decimal of some tenths of a MPa.
        Assert.Equal(deviation.ToString("F1", System.Globalization.CultureInfo.InvariantCulture), cells[4]);
    }

    /// <summary>Six shares of a variance are 100 % of it, but for their rounding; the piece of a material that bears more is no other
    /// bench.</summary>
    [Fact]
    public void Says_of_each_group_where_its_uncertainty_comes_from()
    {
        int from = Example.IndexOf("The same for each group", StringComparison.Ordinal);
        string table = Example[from..Example.IndexOf("</table>", from, StringComparison.Ordinal)];
        MatchCollection rows = Regex.Matches(table, "<th scope=\"row\">([^<]*)</th>((?:<td[^>]*>[^<]*</td>)+)");
        Assert.Equal(12, rows.Select(row => row.Groups[1].Value).Distinct().Count());
        Assert.All(rows, row =>
        {
            string[] cells = [.. Regex.Matches(row.Groups[2].Value, "<td[^>]*>([^<]*)</td>").Select(cell => cell.Groups[1].Value)];
            Assert.InRange(cells[1..7].Sum(share => double.Parse(share, System.Globalization.CultureInfo.InvariantCulture)), 97, 103);
            Assert.Contains("±", cells[7], StringComparison.Ordinal);
        });
    }

    [Fact]
    public void Says_how_many_strengths_were_imported_not_that_nothing_was_pulled()
    {
        StudyReportModel model = ExampleStudy.Model();
        DateTimeOffset at = model.WrittenAt;
        Study study = model.Study with
        { Imported = [.. model.Study.Specimens.Take(9).Select(s => new ImportedStrength(s.Id, 31, "a table", at))] };
        string html = StudyReportHtml.Render(StudyReportModel.Create(study, [], [], at, "0.1.0"));
        Assert.Contains($"9 imported strengths of {study.Specimens.Count} specimens", html, StringComparison.Ordinal);
        Assert.DoesNotContain("0 runs", html, StringComparison.Ordinal);
    }

    [Fact]
    public void Names_every_run_with_its_ending_and_why_it_was_left_out()
    {
        StudyReportModel model = ExampleStudy.Model();
        string html = StudyReportHtml.Render(model);
        foreach (Run run in model.Runs) Assert.Contains($"<th scope=\"row\">{run.Head.SpecimenId}</th>", html, StringComparison.Ordinal);
        Assert.Contains("<td>slipped out</td>", html, StringComparison.Ordinal);
        Assert.Contains("excluded: grip failure (broke in the jaw)", html, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("What these figures do not show")]
    [InlineData("no accredited verification")]
    [InlineData("each specimen's own")]
    [InlineData("343.")]
    [InlineData("class 0.5 from")]
    [InlineData("20261102")]
    [InlineData("RigDaq 0.1.0")]
    [InlineData("Okabe and Ito")]
    [InlineData("0.25 mm/s")]
    [InlineData("The check weight")]
    [InlineData("were frozen on 2026-11-02 19:15")]
    [InlineData("6 h, 51.5 °C measured, 0.25 % of the dry mass lost")]
    [InlineData("bag with desiccant 72 h 21 °C 18 % relative humidity")]
    public void Holds_what_a_reader_must_be_able_to_check(string text) =>
        Assert.Contains(text, WebUtility.HtmlDecode(Example), StringComparison.Ordinal);

    [Fact]
    public void Is_one_file_without_script_or_anything_from_elsewhere()
    {
        string html = Example;
        Assert.DoesNotContain("<script", html, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("<link", html, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("@import", html, StringComparison.OrdinalIgnoreCase);
        Assert.Empty(Elsewhere().Matches(html));
    }

    [Fact]
    public void A_name_is_never_markup()
    {
        StudyReportModel model = ExampleStudy.Model();
        const string Nasty = "<script>alert(\"1\")</script> & 'x'";
        model = model with { Study = model.Study with { Name = Nasty, SettingName = Nasty, SettingUnit = "<b>" } };
        string html = StudyReportHtml.Render(model);
        Assert.DoesNotContain("<script", html, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("<b>", html, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("&lt;script&gt;", html, StringComparison.Ordinal);
    }

    [Fact]
    public void Names_within_the_page_are_unique_and_all_colours_are_the_pages_own()
    {
        string html = Example;
        string[] ids = [.. Regex.Matches(html, " id=\"([^\"]+)\"").Select(match => match.Groups[1].Value)];
        Assert.Equal(ids.Length, ids.Distinct().Count());
        foreach (Match reference in Regex.Matches(html, "url\\(#([^)]+)\\)")) Assert.Contains(reference.Groups[1].Value, ids);
        string pictures = html[html.IndexOf("<svg", StringComparison.Ordinal)..html.LastIndexOf("</svg>", StringComparison.Ordinal)];
        Assert.Empty(Regex.Matches(pictures, "\"(#[0-9A-Fa-f]{6})\"").Select(match => match.Groups[1].Value).Distinct());
    }

    [Fact]
    public void A_study_in_any_state_has_a_report_without_a_figure_that_is_none()
    {
        StudyReportModel full = ExampleStudy.Model();
        var none = full.Study with { ReferenceCondition = null, SettingName = "setting", SettingUnit = "" };
        StudyReportModel[] models =
        [
            Again(full.Study, []),
            Again(full.Study with { Prints = [], Specimens = [] }, []),
            Again(full.Study, [full.Runs[0]]),
            Again(full.Study, [.. full.Runs.Take(2)]),
            Again(full.Study, [.. full.Runs.Select(run => run with { Void = new RunVoid(VoidKind.RigFault, "", run.EndedAt) })]),
            Again(full.Study, [.. full.Runs.Select(run => run with { Ending = PullEnding.Interrupted, Reading = null, Strength = null })]),
            Again(none with { Prints = [.. none.Prints.Select(print => print with { Stretches = [new Stretch()] })],
                Specimens = [.. none.Specimens.Select(s => s with { Setting = null })] }, full.Runs),
            Again(none with { Prints = [.. none.Prints.Select(print => Print.Of(print.Id, new GroupKey("", "", null)))],
                Specimens = [.. none.Specimens.Select(s => s with { Setting = null })] }, full.Runs),
            Again(full.Study with { Specimens = [] }, full.Runs),
            Again(full.Study,
                [.. full.Runs.Select(run => run.Strength is null ? run : run with { Strength = run.Strength with { Megapascals = 0 } })]),
        ];
        foreach (StudyReportModel model in models)
        {
            string html = StudyReportHtml.Render(model);
            Assert.DoesNotContain("NaN", html, StringComparison.Ordinal);
            Assert.DoesNotContain("∞", html, StringComparison.Ordinal);
            Assert.EndsWith("</html>\n", html, StringComparison.Ordinal);
        }
    }

    private static StudyReportModel Again(Study study, IReadOnlyList<Run> runs) =>
        StudyReportModel.Create(study, runs, [ExampleStudy.Calibration()], ExampleStudy.Start, "0.1.0");

    [GeneratedRegex("(src|href)=\"(?!#)", RegexOptions.IgnoreCase)]
    private static partial Regex Elsewhere();
}
