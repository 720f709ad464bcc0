using RigDaq.Core.Runs;
using RigDaq.Reports.Model;
using RigDaq.Reports.Pdf;
using RigDaq.Reports.Pictures;
using RigDaq.Text;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.DocumentLayoutAnalysis.TextExtractor;
using UglyToad.PdfPig.Tokens;

namespace RigDaq.Reports.Tests.Pdf;

// Read back with PdfPig, a reader that we did not write.
public sealed class StudyReportPdfTest
{
    private static readonly StudyReportModel Model = ExampleStudy.Model();
    private static readonly byte[] File = StudyReportPdf.Render(Model);

    [Fact]
    public void Says_the_claim_on_its_first_page_and_names_every_run()
    {
        using PdfDocument pdf = PdfDocument.Open(File);
        string first = TextOf(pdf.GetPage(1));
        Assert.Contains("Does the cooling fan weaken layer adhesion?", first, StringComparison.Ordinal);
        Assert.Contains("Nothing here was measured", first, StringComparison.Ordinal);
        Assert.Contains("fan on against fan off", first, StringComparison.Ordinal);
        string all = string.Join('\n', pdf.GetPages().Select(TextOf));
        foreach (Run run in Model.Runs) Assert.Contains(run.Head.SpecimenId, all, StringComparison.Ordinal);
        Assert.Contains("no accredited verification", all, StringComparison.Ordinal);
        Assert.Contains("What these figures do not show", all, StringComparison.Ordinal);
    }

    [Fact]
    public void Is_tagged_says_its_language_and_describes_its_pictures()
    {
        using PdfDocument pdf = PdfDocument.Open(File);
        DictionaryToken catalog = pdf.Structure.Catalog.CatalogDictionary;
        Assert.True(catalog.ContainsKey(NameToken.Create("StructTreeRoot")));
        Assert.True(catalog.ContainsKey(NameToken.Create("Lang")));
        Assert.Equal(Model.Study.Name, pdf.Information.Title);
        // Pictures are drawings with real text, not dots: an axis can be searched for.
        Assert.Equal(0, pdf.GetPages().Sum(page => page.GetImages().Count()));
        string all = string.Join('\n', pdf.GetPages().Select(TextOf));
        foreach (Picture picture in StudyPictures.Of(Model)) Assert.Contains(picture.Title, all, StringComparison.Ordinal);
        Assert.Contains("large: mean with its 95 % interval", all, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_runs_off_the_page_and_no_two_lines_overlap()
    {
        using PdfDocument pdf = PdfDocument.Open(File);
        foreach (Page page in pdf.GetPages())
        {
            Word[] words = [.. page.GetWords()];
            foreach (Word word in words)
            {
                Assert.InRange(word.BoundingBox.Left, PdfFlow.Margin - 1, page.Width - PdfFlow.Margin + 1);
                Assert.InRange(word.BoundingBox.Right, PdfFlow.Margin - 1, page.Width - PdfFlow.Margin + 1);
                Assert.InRange(word.BoundingBox.Bottom, PdfFlow.Margin - 15, page.Height - PdfFlow.Margin + 1);
            }

            // By lines from the top: only neighbours can lie over one another.
            var boxes = words
                .Select(word => (word.Text, word.BoundingBox.Left, word.BoundingBox.Right, word.BoundingBox.Bottom, word.BoundingBox.Top))
                .OrderByDescending(box => box.Top).ToArray();
            for (int i = 0; i < boxes.Length; i++)
            {
                for (int j = i + 1; j < boxes.Length && boxes[j].Top > boxes[i].Bottom + .5; j++)
                {
                    var (a, b) = (boxes[i], boxes[j]);
                    Assert.False(a.Left < b.Right - .5 && b.Left < a.Right - .5, $"Page {page.Number}: “{a.Text}” lies over “{b.Text}”.");
                }
            }
        }
    }

    [Fact]
    public void Every_font_is_embedded_so_that_it_looks_the_same_everywhere()
    {
        using PdfDocument pdf = PdfDocument.Open(File);
        string[] fonts = [.. pdf.GetPages().SelectMany(page => page.Letters).Select(letter => letter.FontName ?? "").Distinct()];
        Assert.NotEmpty(fonts);
        // A subset's name starts with six capitals and a plus (ISO 32000-1, 9.6.4).
        Assert.All(fonts, font => Assert.Matches("^/?[A-Z]{6}\\+", font));
    }

    [Fact]
    public void Long_names_and_long_words_are_broken_and_an_empty_study_has_a_report()
    {
        string word = new('w', 300);
        StudyReportModel model = StudyReportModel.Create(
            Model.Study with { Name = word + " " + word, SettingName = word },
            [.. Model.Runs.Take(3).Select(run => run with { Reason = Sentence.Verbatim(word), Warnings = [Sentence.Verbatim(word)] })],
            [],
            ExampleStudy.Start,
            "0.1.0");
        using (PdfDocument pdf = PdfDocument.Open(StudyReportPdf.Render(model)))
        {
            Assert.All(pdf.GetPages().SelectMany(page => page.GetWords()), found => Assert.True(found.BoundingBox.Right < 600));
        }

        using PdfDocument empty =
            PdfDocument.Open(StudyReportPdf.Render(StudyReportModel.Create(Model.Study, [], [], ExampleStudy.Start, "0.1.0")));
        Assert.Contains("not yet two groups", TextOf(empty.GetPage(1)), StringComparison.Ordinal);
    }

    private static string TextOf(Page page) => ContentOrderTextExtractor.GetText(page).ReplaceLineEndings(" ");
}
