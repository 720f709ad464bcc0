using System.Globalization;
using System.Text.RegularExpressions;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Quantities;
using RigDaq.Reports.Html;
using RigDaq.Reports.Model;
using RigDaq.Reports.Pdf;
using RigDaq.Reports.Pictures;
using UglyToad.PdfPig;

namespace RigDaq.Reports.Tests.Html;

/// <summary>One report in MPa, N and mm and one in psi, lbf and in: the same figures, by the factors of NIST SP 811, appendix
/// B.8.</summary>
public sealed class ChosenUnitsTest
{
    private const double PascalsPerPsi = 6894.757;
    private const double NewtonsPerPound = 4.448222;
    private const double SquareMillimetresPerSquareInch = 645.16;

    private static readonly StudyReportModel Metric = ExampleStudy.Model();
    private static readonly StudyReportModel Imperial = ExampleStudy.Model(units: Units.Of("lbf", "psi", "in"));
    private static readonly string MetricPage = StudyReportHtml.Render(Metric);
    private static readonly string ImperialPage = StudyReportHtml.Render(Imperial);

    [Fact]
    public void Every_run_says_the_same_in_both()
    {
        string[][] metric = Rows(MetricPage, "pulled"), imperial = Rows(ImperialPage, "pulled");
        Assert.Equal(Metric.Runs.Count, metric.Length);
        Assert.Equal(metric.Length, imperial.Length);
        for (int i = 0; i < metric.Length; i++)
        {
            Agree(metric[i][5], imperial[i][5], NewtonsPerPound);
            Agree(metric[i][6], imperial[i][6], SquareMillimetresPerSquareInch);
            Agree(metric[i][7], imperial[i][7], PascalsPerPsi / 1e6);
            Agree(metric[i][8], imperial[i][8], PascalsPerPsi / 1e6);
        }
    }

    [Fact]
    public void So_do_groups_and_comparisons()
    {
        foreach ((string head, int[] columns) in new[] { ("CV, %", new[] { 3, 5, 7 }), ("verdict", [6]) })
        {
            string[][] metric = Rows(MetricPage, head), imperial = Rows(ImperialPage, head);
            Assert.NotEmpty(metric);
            for (int i = 0; i < metric.Length; i++)
                foreach (int column in columns) Agree(metric[i][column], imperial[i][column], PascalsPerPsi / 1e6);
        }
    }

    [Fact]
    public void The_claim_is_computed_in_the_unit_and_not_rounded_twice()
    {
        foreach ((Comparison mpa, Comparison psi) in Metric.Answer.Answer!.Comparisons.Zip(Imperial.Answer.Answer!.Comparisons))
        {
            Assert.Equal(mpa.Difference, psi.Difference);
            Match said = Regex.Match(psi.Sentence, @"(?<value>−?[\d.]+) psi \((?<low>−?[\d.]+) to (?<high>−?[\d.]+) psi");
            Assert.True(said.Success, psi.Sentence);
            double half = (psi.High!.Value - psi.Low!.Value) / 2 * 1e6 / PascalsPerPsi;
            double shown = Number(said.Groups["value"].Value), exact = Math.Abs(psi.Difference) * 1e6 / PascalsPerPsi;
            // Two digits of the half-width where it begins with 1 or 2, else one: never more than a sixth of it is rounded away.
            Assert.Equal(exact, Math.Abs(shown), half * .17);
            Assert.DoesNotContain("MPa", psi.Sentence, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void No_other_unit_is_left_anywhere_but_where_it_is_explained()
    {
        string page = Regex.Replace(ImperialPage, "<style>.*?</style>", "", RegexOptions.Singleline);
        string text = Regex.Replace(page, "<[^>]+>", " ");
        string[] left = [.. Regex.Matches(text, @"[^.;]{0,40}\b(MPa|N/s|mm/s|mm²|newtons)[^.;]{0,20}").Select(match => match.Value)];
        // The curve is in newtons per count; the factors; what a person typed of the printer.
        Assert.All(left, said => Assert.Matches("d newtons, d in counts|0068947573 MPa|in N, mm and MPa|speed 45 mm/s", said));
        Assert.Contains("1 psi = 0.0068947573 MPa", text, StringComparison.Ordinal);
        Assert.Contains("0.591 in/min", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_kilogram_force_is_said_to_be_no_mass()
    {
        string page = StudyReportHtml.Render(ExampleStudy.Model(traces: false, units: Units.Of("kgf", "MPa", "mm")));
        Assert.Contains("1 kgf = 9.80665 N (a force, not a mass)", page, StringComparison.Ordinal);
        Assert.Contains("peak force, kgf", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Pictures_and_PDF_follow()
    {
        foreach (Picture picture in StudyPictures.Of(Imperial))
        {
            string svg = picture.ToSvg(PictureStyle.Page);
            Assert.DoesNotContain("MPa", svg + picture.Description, StringComparison.Ordinal);
            Assert.DoesNotContain(" in N<", svg, StringComparison.Ordinal);
        }

        Assert.Contains(StudyPictures.Of(Imperial), picture => picture.ToSvg(PictureStyle.Page)
            .Contains("tensile strength in psi", StringComparison.Ordinal));
        using PdfDocument document = PdfDocument.Open(StudyReportPdf.Render(Imperial));
        string text = string.Join(" ", document.GetPages().SelectMany(page => page.GetWords()).Select(word => word.Text));
        Assert.Contains("psi", text, StringComparison.Ordinal);
        Assert.Contains("lbf", text, StringComparison.Ordinal);
    }

    private static void Agree(string metric, string imperial, double factor)
    {
        if (metric == "–")
        {
            Assert.Equal("–", imperial);
            return;
        }

        // Both were rounded once: they agree within half a step of each.
        Assert.Equal(Number(metric), Number(imperial) * factor, (Step(metric) / 2) + (Step(imperial) * factor / 2 * 1.0001));
    }

    private static double Number(string text) => double.Parse(text.Replace('−', '-'), CultureInfo.InvariantCulture);

    private static double Step(string text)
    {
        int point = text.IndexOf('.', StringComparison.Ordinal);
        if (point >= 0) return Math.Pow(10, -(text.Length - point - 1));
        // Zeros at the end may stand for what is not known.
        return Math.Pow(10, text.Length - text.TrimEnd('0').Length);
    }

    /// <summary>The rows of the table that has such a column.</summary>
    private static string[][] Rows(string page, string column)
    {
        string table = Regex.Matches(page, "<table>.*?</table>", RegexOptions.Singleline).Select(match => match.Value)
            .Single(found => found.Contains($">{column}</th>", StringComparison.Ordinal));
        return [.. Regex.Matches(table, "<tr><th scope=\"row\".*?</tr>").Select(row =>
            Regex.Matches(row.Value, "<t[hd][^>]*>([^<]*)</t[hd]>").Select(cell => cell.Groups[1].Value).ToArray())];
    }
}
