using System.Diagnostics;
using System.Globalization;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Reporting;
using RigDaq.Archive;
using RigDaq.Reports.Html;
using RigDaq.Reports.Model;
using RigDaq.Reports.Pdf;
using RigDaq.Tests.Shared;

namespace RigDaq.Benchmarks;

/// <summary>
/// What the report of a study of 1,008 runs (20 s each at 80 samples/s) costs, in a process that has just started, as a person has it: no
/// code is warm. Told as a ratio to reading the same samples from the archive, which no report can do without, and in seconds of this
/// machine; processor seconds besides those of the clock, because a machine that others use makes the clock say little.
/// </summary>
internal static class ReportCost
{
    private const int SpecimensAPrint = 84;

    public static void Measure(TextWriter output)
    {
        string folder = Directory.CreateTempSubdirectory("rigdaq-report-cost-").FullName;
        try
        {
            using var archive = new RigArchive(folder, TimeProvider.System, NullLogger.Instance);
            PulledStudy.Fill(archive, SpecimensAPrint, loadingSeconds: 18);
            int samples = 0;
            (double clock, double processor) read =
                Cost(() => samples = archive.Runs.OfStudy(PulledStudy.Id)
                    .Sum(run => archive.Runs.FindPull(run.Head.RunId)!.Trace.Samples.Count));
            var reporter = new StudyReporter(archive, TimeProvider.System);
            StudyReportModel? model = null;
            string html = "";
            byte[] pdf = [];
            (double clock, double processor) gather = Cost(() => model = reporter.Model(PulledStudy.Id));
            (double clock, double processor) setHtml = Cost(() => html = StudyReportHtml.Render(model!));
            (double clock, double processor) setPdf = Cost(() => pdf = StudyReportPdf.Render(model!));
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{model!.Runs.Count} runs, {samples} samples"));
            Line("read every sample", read, null);
            Line("gather the report (traces, comparisons)", gather, null);
            Line("HTML, gathered and set", (gather.clock + setHtml.clock, gather.processor + setHtml.processor),
                System.Text.Encoding.UTF8.GetByteCount(html));
            Line("PDF, gathered and set", (gather.clock + setPdf.clock, gather.processor + setPdf.processor), pdf.Length);
            if (Environment.GetEnvironmentVariable("RIGDAQ_LOOK") is { } look)
            {
                File.WriteAllText(Path.Combine(look, "thousand.html"), html);
                File.WriteAllBytes(Path.Combine(look, "thousand.pdf"), pdf);
            }

            void Line(string what, (double Clock, double Processor) cost, long? bytes) => output.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"{what,-42} {cost.Processor,6:0.00} s of processor, {cost.Clock,6:0.00} s of the clock, {cost.Processor / read.processor,5:0.0} times the reading{(bytes is { } b ? $", {b / 1000} kB" : "")}"));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static (double Clock, double Processor) Cost(Action work)
    {
        GC.Collect();
        using Process self = Process.GetCurrentProcess();
        TimeSpan before = self.TotalProcessorTime;
        var clock = Stopwatch.StartNew();
        work();
        double seconds = clock.Elapsed.TotalSeconds;
        self.Refresh();
        return (seconds, (self.TotalProcessorTime - before).TotalSeconds);
    }
}
