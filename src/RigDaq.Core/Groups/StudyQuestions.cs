using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Trace;

namespace RigDaq.Core.Groups;

/// <summary>What a study gives the questions beside its strengths.</summary>
public static class StudyQuestions
{
    private const string Brittle = "brittle", Drawn = "drawn";

    /// <summary>The manners that a trace tells apart.</summary>
    public static IReadOnlyList<string> Manners { get; } = [Brittle, Drawn];

    /// <summary>How a run broke, as the questions know it: brittle or drawn; empty where its trace does not tell.</summary>
    public static string MannerOf(Run run) => run.Reading?.Fracture switch
    {
        FractureManner.Brittle => Brittle,
        FractureManner.Ductile => Drawn,
        _ => "",
    };

    /// <summary>Where a run broke, as a person noted it; empty where nobody did.</summary>
    public static string LocationOf(Run run) => run.Look is { Location: not FractureLocation.NotNoted } look ? look.Location.Word() : "";

    /// <summary>The stretches that could not be printed.</summary>
    public static IReadOnlyList<FailedStretch> FailedOf(Study study) =>
    [
        .. study.Prints.SelectMany(print => print.Stretches.Where(stretch => stretch.Failure is not null)
            .Select(stretch => new FailedStretch(print.GroupAt(stretch.Setting), print.Id)
                { Reason = stretch.Failure!.Reason, Tries = stretch.Failure.Tries })),
    ];

    /// <summary>The questions that share the plan's adjustment; null for all.</summary>
    public static IReadOnlyList<FrozenQuestion>? FrozenOf(Study study) =>
        study.PlanFrozenAt is null ? null : study.PlannedQuestions ?? [new FrozenQuestion(QuestionNames.Condition)];

    /// <summary>The observations of a study in its own order, whatever the order of breaking was: the earlier group is the second of a
    /// pair.</summary>
    internal static IReadOnlyList<Observation> Observations(Study study, IEnumerable<SpecimenStrength> strengths, IReadOnlyList<Run> runs)
    {
        Dictionary<string, Run> byId = runs.GroupBy(run => run.Head.RunId).ToDictionary(run => run.Key, run => run.Last());
        Dictionary<GroupKey, int> places = study.Groups().Select((group, i) => (group, i)).ToDictionary(pair => pair.group, pair => pair.i);
        return
        [
            .. strengths.OrderBy(strength => places.GetValueOrDefault(strength.Group, int.MaxValue))
                .Select(strength => Observed(strength, EarlierResults.CalibrationOf(byId.GetValueOrDefault(strength.RunId)))),
        ];

        static Observation Observed(SpecimenStrength strength, (string Id, double? StandardPercent) calibration)
            => new(strength.Group, strength.PrintId, strength.Megapascals)
            {
                Manner = strength.Manner,
                Location = strength.Location,
                IsImported = strength.Imported,
                CalibrationId = calibration.Id,
                CalibrationPercent = calibration.StandardPercent,
            };
    }
}
