using System.Globalization;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Configuration;
using RigDaq.App.Reporting;
using RigDaq.Archive;
using RigDaq.Benchmarks.Measuring;
using RigDaq.Benchmarks.Table;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Hosting;
using RigDaq.Reports.Html;
using RigDaq.Rig.Links;
using RigDaq.Tests.Shared;

namespace RigDaq.Benchmarks.ManyRuns;

/// <summary>A study of ten thousand runs: its pages, its comparison, its report.</summary>
internal static class ManyRunsPart
{
    private const int SpecimensAPrintWhole = 834;
    private const int SpecimensAPrintShort = 834;
    private const double LoadingSeconds = 2;
    private static readonly string[] Pages = ["/api/study", "/api/runs", "/api/sections"];

    public static IEnumerable<Measured> Measure(Bench bench)
    {
        string folder = bench.Folder("study");
        Cost model, compared, html;
        int count;
        IReadOnlyDictionary<string, double> r;
        using (var archive = new RigArchive(folder, TimeProvider.System, NullLogger.Instance))
        {
            PulledStudy.Fill(archive, bench.Whole ? SpecimensAPrintWhole : SpecimensAPrintShort, LoadingSeconds);
            Study study = archive.Studies.Find(PulledStudy.Id)!;
            IReadOnlyList<Run> runs = archive.Runs.OfStudy(PulledStudy.Id);
            count = runs.Count;
            StudyAnswer answer = StudyComparison.Of(study, runs);
            r = Rivals.Ask("Rscript", bench.Tool("study.R"), WriteStrengths(bench, answer));
            compared = Cost.Of(() => StudyComparison.Of(study, runs), 3);
            var reporter = new StudyReporter(archive, TimeProvider.System);
            model = Cost.Once(() => reporter.Model(PulledStudy.Id));
            string written = "";
            html = Cost.Once(() => written = StudyReportHtml.Render(reporter.Model(PulledStudy.Id)!));
            if (Environment.GetEnvironmentVariable("RIGDAQ_LOOK") is { } look)
                File.WriteAllText(Path.Combine(look, "study.html"), written);
        }

        double page = PageSecondsAsync(folder).GetAwaiter().GetResult();
        string which = FormattableString.Invariant($"a study of {count:#,0} runs of about 320 samples");
        yield return new Measured("study.page", $"{which}: the slowest of its pages' answers", page, "s")
        { Aim = .3, Limit = "every run's record is read from the archive and parsed" };
        yield return new Measured("study.compare", "model and all questions, runs at hand", compared.Seconds, "s")
        {
            Aim = 1,
            Rivals = r.TryGetValue("seconds", out double seconds)
                ? [new Rival("R: Welch, Holm, analysis of variance, Tukey", seconds)] : [],
            Limit = "the questions rather than the model, by the mixed model's two lines; not profiled",
        };
        yield return new Measured("study.report", "the report in HTML, from the archive", html.Seconds, "s")
        {
            Aim = 5,
            Limit = FormattableString.Invariant($"gathering it, {Page.Number(model.Seconds)} s: every trace is read and thinned"),
        };
    }

    private static string WriteStrengths(Bench bench, StudyAnswer answer)
    {
        string file = Path.Combine(bench.Scratch, "study.csv");
        File.WriteAllLines(file, answer.Strengths.Where(s => s.Void is null).Select(s => string.Create(CultureInfo.InvariantCulture,
            $"{s.Group.Material},{s.Group.Condition},{s.Group.Setting},{s.Megapascals}"))
            .Prepend("material,condition,setting,strength"));
        return file;
    }

    /// <summary>As a browser asks, of a daemon whose rig is away.</summary>
    private static async Task<double> PageSecondsAsync(string folder)
    {
        var options = new DaemonOptions { Data = folder };
        options.Http.Port = 0;
        options.Mqtt.Broker = "off";
        await using RigHost host = await RigHost.StartAsync(new RigHostPlan
        {
            Options = options,
            Link = new PipeRigLinkOpener("no rig", () => throw new IOException("there is none.")),
            ReplaceTakenPorts = true,
        }, CancellationToken.None);
        using var client = new HttpClient { BaseAddress = new Uri($"http://127.0.0.1:{host.HttpPort}") };
        double slowest = 0;
        foreach (string page in Pages)
        {
            var address = new Uri($"{page}?study={PulledStudy.Id}", UriKind.Relative);
            double seconds = Cost.Of(() => client.GetByteArrayAsync(address).GetAwaiter().GetResult(), 3).Seconds;
            Bench.Say($"  {page}: {seconds:0.000} s");
            slowest = Math.Max(slowest, seconds);
        }

        return slowest;
    }
}
