using System.CommandLine;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study measure</c>: sections by keyboard, or by a caliper that types.</summary>
internal static class StudyMeasureCommand
{
    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyId };
        var readings = new Option<int>("--readings") { Description = TerminalText.StudyMeasureReadings, DefaultValueFactory = _ => 1 };
        var resolution = new Option<string?>("--resolution") { Description = TerminalText.StudyMeasureResolution, HelpName = "STEP" };
        var print = new Option<string?>("--print") { Description = TerminalText.StudyMeasurePrint };
        var again = new Option<bool>("--again") { Description = TerminalText.StudyMeasureAgain };
        var command = new Command("measure", TerminalText.StudyMeasureCommand)
            { id, readings, resolution, print, again, StudyStore.Data, StudyStore.Config };
        return command.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed);
            Study study = store.Require(parsed.GetRequiredValue(id));
            Unit unit = UnitsOption.Of(parsed, parsed.GetValue(StudyStore.Config)).Length;
            double? error = OptionsReader.Read(parsed.GetValue(StudyStore.Config),
                CommandPlace.Settings).Bench.CaliperErrorMillimetres;
            var dialogue = new StudyMeasureDialogue(
                study, Math.Clamp(parsed.GetValue(readings), 1, SectionRules.ReadingsMax), Resolution(parsed.GetValue(resolution), unit),
                    CommandPlace.Input, CommandPlace.Error, unit, error);
            CommandRunner.Say(TerminalText.StudyMeasureOpening(unit.Symbol, unit.IsStored));
            int measured = 0;
            int[] before = Revisions();
            foreach (Specimen specimen in study.Specimens.OrderBy(s => s.PrintId, StringComparer.Ordinal)
                .ThenBy(s => s.Id, StringComparer.Ordinal))
            {
                if (parsed.GetValue(print) is { } only && specimen.PrintId != only) continue;
                if (specimen.Section is not null && !parsed.GetValue(again)) continue;
                MeasureStep step = dialogue.Ask(specimen.Id);
                if (step == MeasureStep.End) break;
                if (step == MeasureStep.Skipped) continue;

                // Kept at once: whoever stops half-way has lost nothing.
                SectionMeasurement? section = dialogue.Study.Specimens.Single(s => s.Id == specimen.Id).Section;
                store.Edit(study.Id, now => StudyCorrections.Measure(now, specimen.Id, section),
                    AppText.StudyMeasuredSectionOf(specimen.Id), AppText.StudyMeasured);
                measured++;
            }

            int revised = before.Zip(Revisions()).Count(run => run.First != run.Second);
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study = study.Id, measured, revisedRuns = revised });
            else CommandRunner.Say(TerminalText.StudyMeasuredTotal(measured, revised));
            return ExitStatus.Done;

            int[] Revisions() => [.. store.Archive.Runs.OfStudy(study.Id).Select(run => run.Revision)];
        });
    }

    /// <summary>In mm, from what was typed in the chosen unit.</summary>
    private static double Resolution(string? typed, Unit unit)
    {
        decimal step = typed is null ? (unit.IsStored ? 0.01m : 0.0005m) : DecimalText.Read("--resolution", typed);
        return step >= 0 ? unit.ToStored(step) : throw new InputException(TerminalText.StudyMeasureResolutionBelowZero);
    }
}
