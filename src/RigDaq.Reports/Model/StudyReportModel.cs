using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Quantities;
using RigDaq.Core.Questions;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;

namespace RigDaq.Reports.Model;

/// <summary>Everything a study's report is written from. Made once; HTML, PDF and pictures say the same because of it.</summary>
public sealed record StudyReportModel
{
    /// <summary>The study.</summary>
    public required Study Study { get; init; }

    /// <summary>The latest revisions of its runs, in the order they were pulled.</summary>
    public required IReadOnlyList<Run> Runs { get; init; }

    /// <summary>What the runs say.</summary>
    public required StudyAnswer Answer { get; init; }

    /// <summary>The calibrations that the runs name, as far as they are known.</summary>
    public required IReadOnlyList<CalibrationRecord> Calibrations { get; init; }

    /// <summary>When the report was written.</summary>
    public required DateTimeOffset WrittenAt { get; init; }

    /// <summary>The version of the program that wrote it.</summary>
    public required string Version { get; init; }

    /// <summary>Traces to lay over one another; empty where they were not asked for.</summary>
    public IReadOnlyList<ReportTrace> Traces { get; init; } = [];

    /// <summary>What the check weight says under each calibration, by the calibration's id; empty where none was read.</summary>
    public IReadOnlyDictionary<string, CheckWeight> CheckWeights { get; init; } = new Dictionary<string, CheckWeight>();

    /// <summary>Other studies of this bench that pulled the same control; empty where there is none. Those that the study was set against
    /// are known besides.</summary>
    public IReadOnlyList<EarlierResult> ControlSessions { get; init; } = [];

    /// <summary>Every version of the study that was kept, the first first; empty where they were not asked for.</summary>
    public IReadOnlyList<StudyVersion> Versions { get; init; } = [];

    /// <summary>What corrections changed of the runs, in the order of the runs; empty where they were not asked for.</summary>
    public IReadOnlyList<RunChange> Changes { get; init; } = [];

    /// <summary>The confidence of intervals in per cent.</summary>
    public double ConfidencePercent { get; init; } = 95;

    /// <summary>The units that figures are shown in.</summary>
    public Units Units { get; private init; } = Units.Si;

    /// <summary>Whether any run came from a virtual rig: then nothing in the report is a measurement.</summary>
    public bool Simulated => Runs.Any(run => run.Head.Device.Simulated);

    /// <summary>Whether all runs were read from files of other programs: nothing is known of how they were pulled.</summary>
    public bool AllRecorded => Runs.Count > 0 && Runs.All(run => run.Head.Recording is not null);

    /// <summary>Whether any strength that is used is extrapolated.</summary>
    public bool Extrapolated => Answer.Strengths.Any(strength => strength.Extrapolated && strength.Void is null);

    /// <summary>Compares the runs and gathers what a report needs.</summary>
    /// <param name="study">The study.</param>
    /// <param name="runs">The latest revisions of its runs, in the order they were pulled.</param>
    /// <param name="calibrations">At least those that the runs name; others are left out.</param>
    /// <param name="writtenAt">Now.</param>
    /// <param name="version">The program's version.</param>
    /// <param name="traces">Traces to lay over one another; may be left out.</param>
    /// <param name="units">The units that figures are shown in; null for SI.</param>
    public static StudyReportModel Create(Study study, IReadOnlyList<Run> runs, IReadOnlyList<CalibrationRecord> calibrations,
        DateTimeOffset writtenAt, string version, IReadOnlyList<ReportTrace>? traces = null, Units? units = null)
    {
        HashSet<string> used = [.. runs.Where(run => run.Head.Recording is null).Select(run => run.Head.CalibrationId)];
        return new StudyReportModel
        {
            Study = study,
            Runs = runs,
            Answer = InTheStudysOrder(study, StudyComparison.Of(study, runs, units: units)),
            Calibrations = [.. calibrations.Where(calibration => used.Contains(calibration.Id)).DistinctBy(calibration => calibration.Id)],
            WrittenAt = writtenAt,
            Version = version,
            Traces = traces ?? [],
            Units = units ?? Units.Si,
            Conditions = ConditionsOf(study),
            Materials = [.. study.Prints.Select(print => print.Material).Distinct()],
        };
    }

    /// <summary>The conditions in the order that colours and columns follow: the reference first, then as in the study.</summary>
    public IReadOnlyList<string> Conditions { get; private init; } = [];

    /// <summary>The materials as in the study.</summary>
    public IReadOnlyList<string> Materials { get; private init; } = [];

    /// <summary>The group of a specimen, or null where the study does not have it.</summary>
    public GroupKey? GroupOf(string specimenId) => Study.GroupOf(specimenId);

    // Specimens are broken in a shuffled order; a report follows the study's own.
    private static StudyAnswer InTheStudysOrder(Study study, StudyAnswer answer)
    {
        if (answer.Answer is not { } found) return answer;
        string[] conditions = ConditionsOf(study);
        string[] materials = [.. study.Prints.Select(print => print.Material).Distinct()];
        return answer with
        {
            Answer = found with
            {
                Groups = [.. found.Groups.OrderBy(g => Place(materials, g.Material)).ThenBy(g => Place(conditions, g.Condition))
                    .ThenBy(g => g.Setting)],
                Comparisons = [.. AsAnswered(found).OrderBy(c => Place(materials, c.Material)).ThenBy(c => c.Setting)
                    .ThenBy(c => Place(conditions, c.Condition))],
                Series = [.. found.Series.OrderBy(s => Place(materials, s.Material)).ThenBy(s => Place(conditions, s.Condition))],
            },
        };
    }

    /// <summary>People are shown one figure for one question, the model's: where it answers a comparison, per cent and verdict are its
    /// own.</summary>
    private static IEnumerable<Comparison> AsAnswered(ComparisonAnswer found)
    {
        var answers = PreferredAnswer.Of(found, QuestionNames.Condition)
            .ToDictionary(a => (a.Material, a.Setting, a.Condition, a.AgainstCondition));
        return found.Comparisons.Select(c => !answers.TryGetValue((c.Material, c.Setting, c.Condition, c.Reference), out QuestionAnswer? a)
            ? c : c with
            {
                Percent = a.Percent,
                PercentLow = a.PercentLow,
                PercentHigh = a.PercentHigh,
                P = a.P,
                PAdjusted = a.PAdjusted,
                PEquivalence = a.PEquivalence,
                Verdict = a.Verdict ?? c.Verdict,
                WithinMargin = c.WithinMargin && a.Verdict == Verdicts.Different,
            });
    }

    private static string[] ConditionsOf(Study study) =>
        [.. study.Prints.Select(print => print.Condition).Distinct().OrderBy(condition => condition == study.ReferenceCondition ? 0 : 1)];

    private static int Place(string[] names, string name) => Array.IndexOf(names, name) is >= 0 and var place ? place : int.MaxValue;
}

/// <summary>A trace in newtons above zero against seconds, thinned out for a picture.</summary>
/// <param name="RunId">The run.</param>
/// <param name="SpecimenId">Its specimen.</param>
/// <param name="Group">Its group.</param>
/// <param name="TimesSeconds">From the start of the trace.</param>
/// <param name="ForcesNewtons">As many.</param>
/// <param name="BreakTimeSeconds">When the last fall began; null where there was none.</param>
public sealed record ReportTrace(string RunId, string SpecimenId, GroupKey Group, IReadOnlyList<double> TimesSeconds,
    IReadOnlyList<double> ForcesNewtons, double? BreakTimeSeconds)
{
    /// <summary>The force when the last fall began, in newtons; null where it is not known, and then it is taken from the points.</summary>
    public double? BreakForceNewtons { get; init; }
}
