using System.CommandLine;
using RigDaq.App.Runs;
using RigDaq.App.Text;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Questions;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study show</c>: the plan, how far it has come, and what it says so far.</summary>
internal static class StudyShowCommand
{
    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyId };
        return new Command("show", TerminalText.StudyShowCommand) { id, StudyStore.Data, StudyStore.Config }.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed);
            Study study = store.Require(parsed.GetRequiredValue(id));
            IReadOnlyList<Run> runs = store.Archive.Runs.OfStudy(study.Id);
            bool json = parsed.GetValue(CommandTree.Json);
            Units units = json ? Units.Si : UnitsOption.Of(parsed, parsed.GetValue(StudyStore.Config));
            StudyAnswer answer = StudyComparison.Of(study, runs, units: units);
            Sentence[] findings = [.. StudyRules.Check(study).Concat(RecordRules.Check(study)).Select(f => f.Text),
                .. Confounding.Warnings(study), .. answer.Warnings,
                .. CalibrationUse.Of(runs).Warning is { } several ? new[] { several } : []];
            if (json) JsonAnswer.Write(Answer(study, answer, findings));
            else Write(study, answer, findings, CommandPlace.Output, units);
            return ExitStatus.Done;
        });
    }

    /// <summary>For people.</summary>
    internal static void Write(Study study, StudyAnswer answer, IReadOnlyList<Sentence> findings, TextWriter output, Units? units = null)
    {
        units ??= Units.Si;

        output.WriteLine($"{study.Id}: {study.Name}");
        output.WriteLine(TerminalText.StudyShowPlan(study.CreatedAt, study.Specimens.Count, study.Prints.Count,
            study.EquivalenceMarginPercent, study.ReferenceCondition, study.PlanFrozenAt));
        HashSet<string> tables = [.. study.Imported.Select(strength => strength.SpecimenId)];
        foreach (GroupCounts group in answer.Counts)
        {
            int imported = study.SpecimensIn(group.Group).Count(specimen => tables.Contains(specimen.Id));
            string endings = string.Join(", ", group.Endings.Select(e => $"{e.Value} {e.Key.Spoken()}"));
            string? mean = group.MeanMegapascals is { } value ? units.Stress.Text(value, Spread(answer, group.Group), 1) : null;
            output.WriteLine($"  {TerminalText.StudyShowGroup(group.Group.Describe(study.SettingUnit), group.Planned, endings.Length == 0 ? TerminalText.StudyShowNonePulled : endings, imported, group.VoidedTotal, mean)}");
        }

        foreach (Print print in study.Prints)
        {
            foreach (Stretch failed in print.Stretches.Where(stretch => stretch.Failure is not null))
                output.WriteLine($"  {AppText.StudyNotPrinted($"{print.Id}, {print.GroupAt(failed.Setting).Describe(study.SettingUnit)}", failed.Failure!.Reason, failed.Failure.Tries)}");
        }

        foreach (var question in (answer.Answer?.Answers ?? []).GroupBy(one => one.Question))
        {
            output.WriteLine(question.Key + TerminalText.StudyShowQuestionEnd);
            foreach (QuestionAnswer one in question) output
                .WriteLine($"  {one.Sentence}{(one.SeenAfterwards ? TerminalText.StudyShowSeenAfterwards : "")}");
        }

        if ((answer.Answer?.Answers ?? []).Any(one => one.SeenAfterwards)) output.WriteLine(TerminalText.StudyShowSeenAfterwardsNote);
        foreach (Sentence finding in findings.Concat(answer.Answer?.Warnings ?? [])) CommandRunner.Say(finding.In(units));
    }

    /// <summary>Half the width of the mean's interval; null without one.</summary>
    private static double? Spread(StudyAnswer answer, GroupKey key) =>
        answer.Answer?.Groups.FirstOrDefault(g => g.Material == key.Material && g.Condition == key.Condition && g.Setting == key.Setting)
            is { Low: { } low, High: { } high }
            ? (high - low) / 2
            : null;

    private static object Answer(Study study, StudyAnswer answer, Sentence[] findings) => new
    {
        study = new
        {
            study.Id,
            study.Name,
            study.CreatedAt,
            study.SettingName,
            study.SettingUnit,
            study.ReferenceCondition,
            study.ReferenceMaterial,
            study.ReferenceSetting,
            study.KeepsPercent,
            study.PlannedQuestions,
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
            voided = c.Voided.ToDictionary(v => VoidWords.Word(v.Key), v => v.Value),
            c.MeanMegapascals,
            c.MeanWithVoidsMegapascals,
        }),
        answer = answer.Answer,
        answerWithVoids = answer.WithVoids,
        weibull = StudyWeibull.Of(answer),
        warnings = findings,
    };
}
