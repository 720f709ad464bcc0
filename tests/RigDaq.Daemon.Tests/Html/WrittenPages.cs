using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Reporting;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Reports.Html;
using RigDaq.Tests.Shared;
using RigDaq.Web.Pages;

namespace RigDaq.Daemon.Tests.Html;

/// <summary>Every HTML page that this program writes or serves, as files: report, calibration record, the dashboard's pages.</summary>
public sealed class WrittenPages : IDisposable
{
    public static readonly string[] Names = ["report.html", "calibration.html", "index.html", "run.html", "calibrate.html", "sections.html",
        "studies.html", "curves.html"];

    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-html-").FullName;

    public WrittenPages()
    {
        using (var archive = new RigArchive(In("data"), TimeProvider.System, NullLogger.Instance))
        {
            PulledStudy.Fill(archive);
            new StudyReporter(archive, TimeProvider.System).Write(PulledStudy.Id, In("report.html"));
            CalibrationRecord calibration = archive.Calibrations.Find(WorkshopCalibration.Id)!;
            File.WriteAllText(In("calibration.html"), CalibrationRecordHtml.Render(calibration));
        }

        foreach (string page in Names.Skip(2)) File.WriteAllBytes(In(page), PageFiles.Served(page).Span);
    }

    public string In(string name) => Path.Combine(_folder, name);

    public void Dispose() => Directory.Delete(_folder, recursive: true);
}
