using System.CommandLine;
using System.Globalization;
using RigDaq.Core.Calibration;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Strength;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study show</c>: the plan, how far it has come, and what it says so far.</summary>
internal static class StudyShowCommand
{
    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = "The study's id." };
        Option<string?> data = StudyStore.DataOption();
        return new Command("show", "A study: its plan, how far it has come, what it says so far.") { id, data }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed.GetValue(data));
            Study study = store.Studies.Require(parsed.GetRequiredValue(id));
            IReadOnlyList<Run> runs = store.Archive.OfStudy(study.Id);
            bool json = parsed.GetValue(CommandTree.Json);
            Units units = json ? Units.Si : UnitsOption.Of(parsed);
            StudyAnswer answer = StudyComparison.Of(study, runs, units: units);
            string[] findings = [.. StudyRules.Check(study).Concat(RecordRules.Check(study)).Select(f => f.Text), .. Confounding.Warnings(study), .. answer.Warnings,
                .. CalibrationUse.Of(runs).Warning is { } several ? new[] { several } : []];
            if (json) JsonAnswer.Write(Answer(study, answer, findings));
            else Write(study, answer, findings, Console.Out, units);
            return ExitStatus.Done;
        });
    }

    /// <summary>For people.</summary>
    internal static void Write(Study study, StudyAnswer answer, IReadOnlyList<string> findings, TextWriter output, Units? units = null)
    {
        units ??= Units.Si;
        CultureInfo culture = CultureInfo.InvariantCulture;
        output.WriteLine($"{study.Id}: {study.Name}");
        output.WriteLine(string.Create(culture, $"made {study.CreatedAt:yyyy-MM-dd}, {study.Specimens.Count} specimens from {study.Prints.Count} prints, margin ±{study.EquivalenceMarginPercent} %, ")
            + (study.ReferenceCondition is { } reference ? $"compared with {reference}, " : "all pairs compared, ")
            + (study.PlanFrozenAt is { } frozen ? string.Create(culture, $"plan frozen {frozen:yyyy-MM-dd HH:mm}") : "plan not frozen"));
        foreach (GroupCounts group in answer.Counts)
        {
            string endings = string.Join(", ", group.Endings.Select(e => $"{e.Value} {e.Key.Word()}"));
            string voided = group.VoidedTotal > 0 ? $", {group.VoidedTotal} voided" : "";
            string mean = group.MeanMegapascals is { } value ? $", mean {units.Stress.Text(value, Spread(answer, group.Group), 1)}" : "";
            output.WriteLine($"  {group.Group.Describe(study.SettingUnit)}: {group.Planned} planned; {(endings.Length == 0 ? "none pulled" : endings)}{voided}{mean}");
        }

        foreach (Comparison comparison in answer.Answer?.Comparisons ?? []) output.WriteLine(comparison.Sentence);
        foreach (string finding in findings.Concat(answer.Answer?.Warnings ?? [])) CommandRunner.Say(UnitWords.In(finding, units));
    }

    /// <summary>Half the width of the mean's interval; null without one.</summary>
    private static double? Spread(StudyAnswer answer, GroupKey key) =>
        answer.Answer?.Groups.FirstOrDefault(g => g.Material == key.Material && g.Condition == key.Condition && g.Setting == key.Setting) is { Low: { } low, High: { } high }
            ? (high - low) / 2
            : null;

    private static object Answer(Study study, StudyAnswer answer, string[] findings) => new
    {
        study = new
        {
            study.Id,
            study.Name,
            study.CreatedAt,
            study.SettingName,
            study.SettingUnit,
            study.ReferenceCondition,
            study.ReferenceSetting,
            SectionBasis = BasisOption.Word(study.SectionBasis),
            study.EquivalenceMarginPercent,
            study.Seed,
            study.PlanFrozenAt,
            study.PlannedComparisons,
            study.Materials,
            study.Prints,
            study.Specimens,
        },
        groups = answer.Counts.Select(c => new
        {
            c.Group.Material,
            c.Group.Condition,
            c.Group.Setting,
            c.Planned,
            endings = c.Endings.ToDictionary(e => e.Key.Word(), e => e.Value),
            voided = c.Voided.ToDictionary(v => VoidOption.Word(v.Key), v => v.Value),
            c.MeanMegapascals,
            c.MeanWithVoidsMegapascals,
        }),
        answer = answer.Answer,
        answerWithVoids = answer.WithVoids,
        weibull = StudyWeibull.Of(answer),
        warnings = findings,
    };
}
