using RigDaq.Reports.Html;
using RigDaq.Reports.Pdf;
using RigDaq.Reports.Pictures;

namespace RigDaq.Reports.Tests;

public sealed class LookTest
{
    [Fact]
    public void Writes_everything_where_a_person_asked_to_look()
    {
        string? folder = Environment.GetEnvironmentVariable("RIGDAQ_LOOK");
        Assert.SkipUnless(folder is not null, "Set RIGDAQ_LOOK to a folder to look at reports and pictures.");
        var model = ExampleStudy.Model();
        File.WriteAllText(Path.Combine(folder, "report.html"), StudyReportHtml.Render(model));
        File.WriteAllBytes(Path.Combine(folder, "report.pdf"), StudyReportPdf.Render(model));
        foreach (Picture picture in StudyPictures.Of(model))
        {
            File.WriteAllText(Path.Combine(folder, picture.Name + ".svg"), picture.ToSvg(PictureStyle.Page));
            File.WriteAllBytes(Path.Combine(folder, picture.Name + ".png"), picture.ToPng(PictureStyle.Page));
            File.WriteAllBytes(Path.Combine(folder, picture.Name + "-video.png"), picture.ToPng(PictureStyle.Video with { Dark = true }));
        }
    }
}
