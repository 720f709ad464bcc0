using System.CommandLine;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Input;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study measure</c>: sections by keyboard, or by a caliper that types.</summary>
internal static class StudyMeasureCommand
{
    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = "The study's id." };
        var readings = new Option<int>("--readings") { Description = "Readings of each dimension.", DefaultValueFactory = _ => 1 };
        var resolution = new Option<string?>("--resolution") { Description = "The smallest step that the caliper shows, in the unit of length; by default 0.01 mm or 0.0005 in.", HelpName = "STEP" };
        var print = new Option<string?>("--print") { Description = "Only this print's specimens." };
        var again = new Option<bool>("--again") { Description = "Those measured already, too." };
        Option<string?> data = StudyStore.DataOption();
        var command = new Command("measure", "Sections by keyboard or by a caliper that types: one reading a line, each specimen in turn.") { id, readings, resolution, print, again, data };
        return command.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed.GetValue(data));
            Study study = store.Studies.Require(parsed.GetRequiredValue(id));
            Unit unit = UnitsOption.Of(parsed).Length;
            var dialogue = new StudyMeasureDialogue(study, Math.Clamp(parsed.GetValue(readings), 1, SectionRules.ReadingsMax), Resolution(parsed.GetValue(resolution), unit), Console.In, Console.Error, unit);
            CommandRunner.Say(StudyMeasureDialogue.Opening(unit));
            int measured = 0;
            foreach (Specimen specimen in study.Specimens.OrderBy(s => s.PrintId, StringComparer.Ordinal).ThenBy(s => s.Id, StringComparer.Ordinal))
            {
                if (parsed.GetValue(print) is { } only && specimen.PrintId != only) continue;
                if (specimen.Section is not null && !parsed.GetValue(again)) continue;
                MeasureStep step = dialogue.Ask(specimen.Id);
                if (step == MeasureStep.End) break;
                if (step == MeasureStep.Skipped) continue;

                // Kept at once: whoever stops half-way has lost nothing.
                store.Studies.Save(dialogue.Study, $"section of {specimen.Id}");
                measured++;
            }

            int revised = measured == 0 ? 0 : StudyRecompute.Run(store.Archive, dialogue.Study, "the section was measured", TimeProvider.System.GetUtcNow());
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study = study.Id, measured, revisedRuns = revised });
            else CommandRunner.Say($"{measured} specimens measured{(revised > 0 ? $", {revised} runs revised" : "")}.");
            return ExitStatus.Done;
        });
    }

    /// <summary>In mm, from what was typed in the chosen unit.</summary>
    private static double Resolution(string? typed, Unit unit)
    {
        decimal step = typed is null ? (unit.IsStored ? 0.01m : 0.0005m) : DecimalText.Read("--resolution", typed);
        return step >= 0 ? unit.ToStored(step) : throw new InputException("--resolution: 0 or more was expected.");
    }
}
