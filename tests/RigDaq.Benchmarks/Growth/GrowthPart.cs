using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Benchmarks.Measuring;
using RigDaq.Benchmarks.Pictures;
using RigDaq.Benchmarks.Table;
using RigDaq.Benchmarks.Traces;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Trace;
using RigDaq.Tests.Shared;

namespace RigDaq.Benchmarks.Growth;

/// <summary>Time and memory against samples, runs, studies, rigs and subscribers.</summary>
internal static class GrowthPart
{
    private const double ExponentMax = 1.1;
    private const int PrintsOfStudy = 12;
    private const int WarmUpCalls = 40;
    private static readonly int[] Samples = [10_000, 30_000, 100_000, 300_000, 1_000_000];
    private static readonly int[] SpecimensAPrint = [10, 20, 40, 80];
    private static readonly int[] Studies = [50, 100, 200, 400, 800];

    public static IEnumerable<Measured> Measure(Bench bench)
    {
        GrowthSeries[] all = [.. OfSamples(), .. OfRuns(bench), OfStudies(bench), .. RigGrowth.Measure()];
        File.WriteAllText(Path.Combine(bench.Root, "docs", "pictures", "performance-growth.svg"), GrowthPicture.Svg(all));
        foreach (GrowthSeries series in all)
        {
            string sizes = string.Join(", ", series.Points.Select(point => Page.Number(point.Size)));
            yield return new Measured("growth." + series.Key, $"growth of {series.Name} ({sizes})", series.Exponent, "exponent")
            { Aim = ExponentMax };
        }
    }

    private static IEnumerable<GrowthSeries> OfSamples()
    {
        TracesPart.WarmUp();
        Cost[] costs = [.. Samples.Select(length =>
        {
            ForceTrace trace = TracesPart.Trace(length);
            return Cost.Of(() => TraceAnalysis.Read(trace, new DetectionSettings()), 5);
        })];
        yield return Series("a trace's time with its samples", "samples.time", Samples, costs.Select(cost => cost.ProcessorSeconds));
        yield return Series("a trace's memory with its samples", "samples.memory", Samples,
            costs.Select(cost => (double)cost.AllocatedBytes));
    }

    private static IEnumerable<GrowthSeries> OfRuns(Bench bench)
    {
        var listed = new List<Cost>();
        var compared = new List<Cost>();
        foreach (int specimens in SpecimensAPrint)
        {
            using var archive = new RigArchive(bench.Folder($"growth-{specimens}"), TimeProvider.System, NullLogger.Instance);
            PulledStudy.Fill(archive, specimens, loadingSeconds: 2);
            Study study = archive.Studies.Find(PulledStudy.Id)!;
            IReadOnlyList<Run> runs = archive.Runs.OfStudy(PulledStudy.Id);
            // The first size would be measured before its code is compiled for good (some thirty calls), and all others look cheap.
            for (int i = 0; listed.Count == 0 && i < WarmUpCalls; i++)
            {
                archive.Runs.OfStudy(PulledStudy.Id);
                StudyComparison.Of(study, runs);
            }

            listed.Add(Cost.Of(() => archive.Runs.OfStudy(PulledStudy.Id), 5));
            compared.Add(Cost.Of(() => StudyComparison.Of(study, runs), 5));
        }

        int[] sizes = [.. SpecimensAPrint.Select(specimens => specimens * PrintsOfStudy)];
        yield return Series("listing a study with its runs", "runs.list", sizes, listed.Select(cost => cost.ProcessorSeconds));
        yield return Series("comparing a study with its runs", "runs.compare", sizes, compared.Select(cost => cost.ProcessorSeconds));
    }

    private static GrowthSeries OfStudies(Bench bench)
    {
        using var archive = new RigArchive(bench.Folder("growth-studies"), TimeProvider.System, NullLogger.Instance);
        var costs = new List<double>();
        int kept = 0;
        foreach (int count in Studies)
        {
            for (; kept < count; kept++) archive.Studies.Save(PulledStudy.Later() with { Id = $"study-{kept}" }, "made");
            for (int i = 0; costs.Count == 0 && i < WarmUpCalls; i++) archive.Studies.All();
            costs.Add(Cost.Of(() => archive.Studies.All(), 5).ProcessorSeconds);
        }

        return Series("listing studies with their number", "studies", Studies, costs);
    }

    private static GrowthSeries Series(string name, string key, int[] sizes, IEnumerable<double> costs)
        => new(name, key, [.. sizes.Zip(costs, (size, cost) => new GrowthPoint(size, cost))]);
}
