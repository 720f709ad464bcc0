using System.Collections.Concurrent;
using System.Text;
using System.Text.Json;
using RigDaq.App.Overview;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Core.Trace;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Tests.Shared;
using RigDaq.Text;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>A study of the demo's scenario with invented figures.</summary>
internal sealed class FakeData : IDashboardData
{
    private static readonly (GroupKey Key, int Count, double? Mean, double? Half)[] Figures =
    [
        (new("Alder", "fan off", 205m), 4, 47.9, 1.6), (new("Alder", "fan off", 220m), 3, 51.2, 2.2),
            (new("Alder", "fan on", 205m), 4, 38.4, 1.9),
        (new("Alder", "fan on", 220m), 3, 42.7, 1.1), (new("Birch", "fan off", 205m), 1, 33.1, null),
            (new("Birch", "fan off", 220m), 0, null, null),
    ];

    public string RigName => "bench-1";

    public long Version { get; set; }

    public Units Units { get; set; } = Units.Si;

    public Sentence? CheckWeight(CalibrationRecord calibration) => OfCore("checkWeightOutside",
        ("newtons", 49.1), ("lowerNewtons", 49.02), ("upperNewtons", 49.08));

    public static IReadOnlyList<string> Specimens
    { get; } = [.. Figures.SelectMany((_, g) => Enumerable.Range(1, 6).Select(i => $"P{g + 1}-{i:00}"))];

    public StudyView? Study() => new("alder-birch", "Alder and Birch", "nozzle temperature", "°C", Specimens.Count - 4,
        [.. Figures.Select(f => new GroupView(f.Key, 6, f.Count, f.Count > 3 ? 1 : 0, f.Mean, f.Mean - f.Half, f.Mean + f.Half))],
        Specimens.Select((id, i) => (id, Figures[i / 6].Key)).ToDictionary(p => p.id, p => p.Key));

    public SequencePlan? NextPlan() => new() { SequenceId = "sequence-1", StudyId = "alder-birch", SpecimenIds = Specimens };

    public (Study Study, IReadOnlyList<Run> Runs)? StudyRuns() => null;

    public SiteView Site => new(52.2, 34, null);

    public CalibrationRecord? Kept { get; private set; }

    /// <summary>How many were kept.</summary>
    public int KeptCount { get; private set; }

    public void KeepCalibration(CalibrationRecord calibration)
    {
        Kept = calibration;
        KeptCount++;
    }

    /// <summary>What keeping a step throws; null keeps it.</summary>
    public Exception? KeepingFails { get; set; }

    /// <summary>Kept guided calibrations, as text: what is found again went through JSON.</summary>
    public ConcurrentDictionary<string, string> Guides { get; init; } = new();

    public void KeepGuide(string deviceId, GuideState guide)
    {
        if (KeepingFails is { } fault) throw fault;
        Guides[deviceId] = JsonSerializer.Serialize(guide);
    }

    public GuideState? FindGuide(string deviceId) => Guides.TryGetValue(deviceId, out string? text)
        ? JsonSerializer.Deserialize<GuideState>(text) : null;

    public IReadOnlyList<DashboardFact> Facts() =>
        [new("MQTT", "127.0.0.1:1883, nothing waits"), new("Data", "/home/kestrel/.local/share/rigdaq")];

    public Task<byte[]?> ReportHtmlAsync(string studyId, CancellationToken cancellation) =>
        Task.FromResult<byte[]?>(studyId == "alder-birch" ? Encoding.UTF8.GetBytes("<!doctype html><title>Report</title><h1>Report</h1>")
            : null);

    public Task<byte[]?> PictureSvgAsync(string studyId, CancellationToken cancellation) => Task.FromResult<byte[]?>(null);

    public static SequenceSnapshot Sequence(SequencePlan plan, SequenceStage stage, int done) => new()
    {
        Plan = plan,
        Stage = stage,
        Reason = Sentence.Verbatim(stage == SequenceStage.WaitingForSpecimen
            ? $"Put specimen {plan.SpecimenIds[done]} into the grips, then close the guard."
            : ""),
        SpecimenId = plan.SpecimenIds[done],
        Specimens = [.. plan.SpecimenIds.Select((id, i) => i < done
            ? new SpecimenProgress(id, SpecimenState.Pulled, i == 2 ? PullEnding.SlippedOut : PullEnding.Broken, $"run-{i}")
            : new SpecimenProgress(id, i == done ? SpecimenState.Current : SpecimenState.Waiting, null, null))],
    };

    public static Run Run(string specimen, PullEnding ending = PullEnding.Broken) => new()
    {
        Head = AnyPull.Head with
        {
            RunId = "run-" + specimen,
            StudyId = "alder-birch",
            SpecimenId = specimen,
            SequenceId = "sequence-1",
            CalibrationId = "c",
            Device = new("00a1b2c3d4e5f607", "bench rig", 3, true),
            IntervalSeconds = 0.002,
        },
        Ending = ending,
        EndedAt = DateTimeOffset.UnixEpoch,
        RevisedAt = DateTimeOffset.UnixEpoch,
        Reading = new TraceReading { Ending = ending, PeakForceNewtons = 612.4, BreakForceNewtons = 601.9 },
        Strength = new StrengthResult
        {
            Megapascals = 51.03,
            StandardUncertaintyMegapascals = 0.34,
            RelativeComparisonUncertaintyMegapascals = 0.28,
            AreaSquareMillimetres = 12,
            AreaStandardUncertaintySquareMillimetres = 0.06,
            SectionBasis = "per specimen, width × thickness",
        },
        Warnings = [OfCore("forceBelowZeroAfterBreak", ("newtonsBelow", 4.1))],
    };

    private static Sentence OfCore(string key, params (string, object?)[] arguments)
        => new TextTable(typeof(Run).Assembly).Sentence(key, arguments);
}
