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

    // Wall time on purpose, and only when a person asks: how long the report of a large study takes.
    [Fact]
    public void Tells_how_long_the_report_of_a_thousand_runs_takes()
    {
        string? folder = Environment.GetEnvironmentVariable("RIGDAQ_LOOK");
        Assert.SkipUnless(folder is not null, "Set RIGDAQ_LOOK to a folder to have it measured.");
        _ = StudyReportHtml.Render(ExampleStudy.Model(2));
        var model = ExampleStudy.Model(specimensAPrint: 21, printsAGroup: 4);
        var clock = System.Diagnostics.Stopwatch.StartNew();
        string html = StudyReportHtml.Render(model);
        double htmlSeconds = clock.Elapsed.TotalSeconds;
        byte[] pdf = StudyReportPdf.Render(model);
        File.WriteAllText(Path.Combine(folder, "large.html"), html);
        File.WriteAllBytes(Path.Combine(folder, "large.pdf"), pdf);
        File.WriteAllText(
            Path.Combine(folder, "large.txt"),
            $"{model.Runs.Count} runs: HTML {htmlSeconds:0.0} s, {html.Length / 1000} kB; PDF {clock.Elapsed.TotalSeconds - htmlSeconds:0.0} s, {pdf.Length / 1000} kB\n");
    }
}
