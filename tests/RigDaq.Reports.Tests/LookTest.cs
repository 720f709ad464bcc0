using RigDaq.Core.Quantities;
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
        // RIGDAQ_LOOK_UNITS=lbf,psi,in for instance.
        string[] chosen = (Environment.GetEnvironmentVariable("RIGDAQ_LOOK_UNITS") ?? "N,MPa,mm").Split(',');
        var model = ExampleStudy.Model(units: Units.Of(chosen[0], chosen[1], chosen[2]));
        File.WriteAllText(Path.Combine(folder, "report.html"), StudyReportHtml.Render(model));
        File.WriteAllBytes(Path.Combine(folder, "report.pdf"), StudyReportPdf.Render(model));
        Picture control = ControlPicture.Of("x", model.CheckWeights.Values.Single(), model.Units)!;
        foreach (Picture picture in StudyPictures.Of(model).Append(control))
        {
            File.WriteAllText(Path.Combine(folder, picture.Name + ".svg"), picture.ToSvg(PictureStyle.Page));
            File.WriteAllBytes(Path.Combine(folder, picture.Name + ".png"), picture.ToPng(PictureStyle.Page));
            File.WriteAllBytes(Path.Combine(folder, picture.Name + "-video.png"), picture.ToPng(PictureStyle.Video with { Dark = true }));
        }
    }
}
