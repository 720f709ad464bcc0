using System.Globalization;
using System.Text;
using System.Text.Json;
using RigDaq.App.Calibrations;
using RigDaq.App.Configuration;
using RigDaq.App.Overview;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Reports.Html;
using RigDaq.Reports.Model;
using RigDaq.Reports.Pictures;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.App.Reporting;

/// <summary>What the dashboard shows of the archive: the study that is worked on, its groups' running figures, what is left to be pulled.
/// Looked up only when something was kept since, however many pages look; a choice holds from the next look on.</summary>
internal sealed class DashboardData(RigArchive archive, DaemonOptions options, TimeProvider time) : IDashboardData
{
    private readonly Lock _lock = new();
    private readonly StudyReporter _reporter = new(archive, time, options.Units.Units);
    private Found _found = new(null, [], 0, "");
    private long _version;
    private long _lookedAt = -1;

    /// <inheritdoc/>
    public string RigName => options.Name;

    /// <inheritdoc/>
    public Units Units { get; } = options.Units.Units;

    /// <inheritdoc/>
    public string? Trouble => archive.Trouble;

    /// <inheritdoc/>
    public Sentence? CheckWeight(CalibrationRecord calibration) =>
        CheckWeightJudge.Of(archive.Diary, calibration.DeviceId, calibration)?.Sentence;

    /// <inheritdoc/>
    public long Version
    {
        get
        {
            Look();
            lock (_lock) return _version;
        }
    }

    /// <inheritdoc/>
    public StudyView? Study()
    {
        Found found = Look();
        return found.Study is { } study ? ViewOf(study, found.Runs) : null;
    }

    /// <inheritdoc/>
    public SequencePlan? NextPlan()
    {
        Found found = Look();
        if (found.Study is not { } study || Left(study, found.Runs) is not { Count: > 0 } left) return null;
        return new SequencePlan
        {
            SequenceId = Guid.CreateVersion7(time.GetUtcNow()).ToString(),
            StudyId = study.Id,
            SpecimenIds = [.. left.Take(SequencePlan.SpecimensMax)],
            Settings = options.Pull,
            AnnouncedDelay = TimeSpan.FromSeconds(options.Sequence.AnnouncedDelaySeconds),
        };
    }

    /// <inheritdoc/>
    public (Study Study, IReadOnlyList<Run> Runs)? StudyRuns() => Look() is { Study: { } study } found ? (study, found.Runs) : null;

    /// <inheritdoc/>
    public SiteView Site => new(options.Site.LatitudeDegrees, options.Site.HeightMetres, options.Site.GravityMetresPerSecondSquared);

    /// <inheritdoc/>
    public BenchInputs Bench => options.Bench;

    /// <inheritdoc/>
    public void KeepCalibration(CalibrationRecord calibration) => archive.Calibrations.Save(calibration);

    /// <inheritdoc/>
    public void KeepGuide(string deviceId, GuideState guide) => archive.Diary.Save(deviceId, guide);

    /// <inheritdoc/>
    public GuideState? FindGuide(string deviceId) => archive.Diary.FindGuide(deviceId);

    /// <inheritdoc/>
    public IReadOnlyList<DashboardFact> Facts()
    {
        int waiting = Look().Waiting;
        string broker = options.Mqtt.Broker switch
        {
            "off" => PageText.Of("facts.off"),
            "external" => string.Create(CultureInfo.InvariantCulture, $"{options.Mqtt.Host}:{options.Mqtt.EffectivePort}"),
            _ => PageText.Of("facts.inThisProcess"),
        };
        string queue = waiting == 0 ? PageText.Of("facts.everyResultTaken") : PageText.Of("facts.resultsWait", ("n", waiting));
        return
        [
            new("MQTT", options.Mqtt.Broker == "off" ? broker : $"{broker}, {queue}"),
            new(PageText.Of("facts.data"), options.DataFolder),
            new(PageText.Of("facts.units"), Units.Force == Units.KilogramForce
                ? PageText.Of("facts.keptInForceNotMass", ("shown", UnitNames.Of(Units)), ("kept", UnitNames.Of(Units.Si)))
                : Units == Units.Si ? UnitNames.Of(Units)
                    : PageText.Of("facts.keptIn", ("shown", UnitNames.Of(Units)), ("kept", UnitNames.Of(Units.Si)))),
            new(PageText.Of("facts.version"), StudyReporter.Version),
        ];
    }

    /// <inheritdoc/>
    public Task<byte[]?> ReportHtmlAsync(string studyId, CancellationToken cancellation) =>
        Task.Run(() => Model(studyId) is { } model ? Encoding.UTF8.GetBytes(StudyReportHtml.Render(model)) : null, cancellation);

    /// <inheritdoc/>
    public Task<byte[]?> PictureSvgAsync(string studyId, CancellationToken cancellation) =>
        Task.Run(() => Model(studyId) is { } model && StudyPictures.Of(model) is [{ } picture, ..]
            ? Encoding.UTF8.GetBytes(picture.ToSvg(PictureStyle.Page)) : null, cancellation);

    /// <summary>Specimens without a run that settled them, in the order of breaking.</summary>
    internal static IReadOnlyList<string> Left(Study study, IReadOnlyList<Run> runs)
    {
        HashSet<string> settled = [.. runs.Where(Settles).Select(run => run.Head.SpecimenId)];
        return [.. study.Specimens.Where(s => !settled.Contains(s.Id)).OrderBy(s => s.Order).Select(s => s.Id)];
    }

    /// <summary>After these endings the piece is no longer what it was; after the others it can be pulled as it is.</summary>
    private static bool Settles(Run run) => run.Ending is PullEnding.Broken or PullEnding.PartlyBroken or PullEnding.SlippedOut
        or PullEnding.Unbroken or PullEnding.Overload;

    private static StudyView ViewOf(Study study, IReadOnlyList<Run> runs)
    {
        StudyAnswer answer = StudyComparison.Of(study, runs, questions: []);
        return new StudyView(study.Id, study.Name, study.SettingName, study.SettingUnit, Left(study, runs).Count,
            [.. answer.Counts.Select(counts => ViewOf(study, counts, answer))], study.GroupOfSpecimens());
    }

    private static GroupView ViewOf(Study study, GroupCounts counts, StudyAnswer answer)
    {
        GroupKey key = counts.Group;
        GroupStatistics? figures = answer.Answer?.Groups.FirstOrDefault(g => g.Material == key.Material && g.Condition == key.Condition
            && g.Setting == key.Setting);
        bool extrapolated = answer.Strengths.Any(s => s.Group == key && s.Void is null && s.Extrapolated);
        return new GroupView(key, counts.Planned, figures?.N ?? 0, counts.VoidedTotal, figures?.Mean, figures?.Low, figures?.High,
            extrapolated, study.PrintsOf(key).Failed);
    }

    private StudyReportModel? Model(string studyId) => _reporter.Model(studyId) is { Runs.Count: > 0 } model ? model : null;

    private Found Look()
    {
        lock (_lock)
        {
            (long entry, int waiting) = (archive.LastEntry, archive.Outbox.Count);
            if (entry == _lookedAt && waiting == _found.Waiting) return _found;
            Study? study = archive.Studies.Active();
            IReadOnlyList<Run> runs = study is null ? [] : archive.Runs.OfStudy(study.Id);
            string mark = string.Join('|', runs.Select(run => run.Head.RunId + run.Revision)) + JsonSerializer.Serialize(study) + "/"
                + waiting;
            _lookedAt = entry;
            if (mark != _found.Mark)
            {
                _found = new Found(study, runs, waiting, mark);
                _version++;
            }

            return _found;
        }
    }

    private sealed record Found(Study? Study, IReadOnlyList<Run> Runs, int Waiting, string Mark);
}
