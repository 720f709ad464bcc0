using System.Reflection;
using RigDaq.App.Calibrations;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Trace;
using RigDaq.Reports.Html;
using RigDaq.Reports.Model;
using RigDaq.Reports.Pdf;

namespace RigDaq.App.Reporting;

/// <summary>Gathers what a study's report is written from, and writes it.</summary>
internal sealed class StudyReporter(RigArchive archive, TimeProvider time, Units? units = null)
{
    /// <summary>The program's version, as it stands in reports.</summary>
    public static string Version { get; } =
        typeof(StudyReporter).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion.Split('+')[0]
            ?? "unknown";

    /// <summary>Whether it is told by whom anything was done.</summary>
    public bool Names { get; init; } = true;

    /// <summary>Everything a report says; null where there is no such study.</summary>
    /// <param name="studyId">The study.</param>
    /// <param name="step">Is told how many traces are read, and of how many; null for nobody.</param>
    public StudyReportModel? Model(string studyId, Action<int, int>? step = null)
    {
        if (archive.Studies.Find(studyId) is not { } study) return null;
        IReadOnlyList<Run> pulled = archive.Runs.OfStudy(studyId);
        CalibrationRecord[] used = [.. pulled.Select(run => run.Head.CalibrationId).Distinct().Select(archive.Calibrations.Find)
            .OfType<CalibrationRecord>().Select(calibration => Names ? calibration : calibration.WithoutNames())];
        return StudyReportModel.Create(study, pulled, used, time.GetUtcNow(), Version, Traces(study, pulled, used, step), units) with
        {
            CheckWeights = CheckWeights(used),
            ControlSessions = ControlSessions(study),
            Versions = [.. archive.Studies.Versions(studyId).Select(version => Names ? version : version with { By = null })],
            Changes = [.. pulled.Where(run => run.Revision > 0).SelectMany(run => RunChange.Of(archive.Runs.Revisions(run.Head.RunId)))
                .Select(change => Names ? change : change with { By = null })],
        };
    }

    /// <summary>Writes a report.</summary>
    /// <param name="studyId">The study.</param>
    /// <param name="file">Where to; .pdf gives a PDF, anything else HTML. A file that is there is replaced whole or not at all.</param>
    /// <param name="step">As in <see cref="Model"/>.</param>
    /// <returns>The file's full path; null where there is no such study.</returns>
    /// <exception cref="IOException">It cannot be written.</exception>
    public string? Write(string studyId, string file, Action<int, int>? step = null)
    {
        if (Model(studyId, step) is not { } model) return null;
        string path = Path.GetFullPath(file);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        string draft = path + ".new";
        if (Path.GetExtension(path).Equals(".pdf", StringComparison.OrdinalIgnoreCase)) File.WriteAllBytes(draft,
            StudyReportPdf.Render(model));
        else File.WriteAllText(draft, StudyReportHtml.Render(model));
        File.Move(draft, path, overwrite: true);
        return path;
    }

    /// <summary>The other sessions of this bench that pulled the study's control.</summary>
    private IReadOnlyList<EarlierResult> ControlSessions(Study study)
    {
        if (study.Control is not { } control) return [];
        IReadOnlyDictionary<string, StudyOrigin> elsewhere = archive.Studies.Origins;
        return
        [
            .. archive.Studies.All().Where(other => other.Id != study.Id && other.Control == control && !elsewhere.ContainsKey(other.Id))
                .Take(MeasuredGroups.StudiesMax)
                .Select(other => EarlierResults.Of(other, archive.Runs.OfStudy(other.Id), time.GetUtcNow())),
        ];
    }

    private Dictionary<string, CheckWeight> CheckWeights(CalibrationRecord[] used)
    {
        var said = new Dictionary<string, CheckWeight>();
        foreach (CalibrationRecord calibration in used)
        {
            if (CheckWeightJudge.Of(archive.Diary, calibration.DeviceId, calibration) is { } checkWeight
                && checkWeight.Verdict != CheckWeightVerdict.NotRead)
                said[calibration.Id] = checkWeight;
        }

        return said;
    }

    private List<ReportTrace> Traces(Study study, IReadOnlyList<Run> pulled, CalibrationRecord[] used, Action<int, int>? step)
    {
        IReadOnlyDictionary<string, GroupKey> groups = study.GroupOfSpecimens();
        var traces = new List<ReportTrace>();
        Run[] shown = [.. pulled.Where(run => run is { Ending: PullEnding.Broken, Void: null, Reading: not null }
            && groups.ContainsKey(run.Head.SpecimenId))];
        for (int i = 0; i < shown.Length; i++)
        {
            step?.Invoke(i, shown.Length);
            Run run = shown[i];
            if (used.FirstOrDefault(c => c.Id == run.Head.CalibrationId) is not { } calibration
                || archive.Runs.FindPull(run.Head.RunId) is not { } pull) continue;
            (double[] times, double[] forces) = TraceThinning.Thin(PullAnalysis.Trace(pull, calibration.Curve));
            traces.Add(new ReportTrace(run.Head.RunId, run.Head.SpecimenId, groups[run.Head.SpecimenId], times, forces,
                run.Reading!.BreakTimeSeconds)
            { BreakForceNewtons = run.Reading.BreakForceNewtons });
        }

        return traces;
    }
}
