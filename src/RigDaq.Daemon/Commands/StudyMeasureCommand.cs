using System.CommandLine;
using RigDaq.Core.Specimens;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study measure</c>: sections by keyboard, or by a caliper that types.</summary>
internal static class StudyMeasureCommand
{
    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = "The study's id." };
        var readings = new Option<int>("--readings") { Description = "Readings of each dimension.", DefaultValueFactory = _ => 1 };
        Option<double> resolution = PercentOption.Create("--resolution", 0.01, "The smallest step that the caliper shows, in mm.");
        var print = new Option<string?>("--print") { Description = "Only this print's specimens." };
        var again = new Option<bool>("--again") { Description = "Those measured already, too." };
        Option<string?> data = StudyStore.DataOption();
        var command = new Command("measure", "Sections by keyboard or by a caliper that types: one reading a line, each specimen in turn.") { id, readings, resolution, print, again, data };
        return command.WithBody(parsed =>
        {
            using StudyStore store = StudyStore.Open(parsed.GetValue(data));
            Study study = store.Studies.Require(parsed.GetRequiredValue(id));
            var dialogue = new StudyMeasureDialogue(study, Math.Clamp(parsed.GetValue(readings), 1, SectionRules.ReadingsMax), parsed.GetValue(resolution), Console.In, Console.Error);
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

            int revised = measured == 0 ? 0 : StudyRecompute.Run(store, dialogue.Study, "the section was measured", TimeProvider.System.GetUtcNow());
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study = study.Id, measured, revisedRuns = revised });
            else CommandRunner.Say($"{measured} specimens measured{(revised > 0 ? $", {revised} runs revised" : "")}.");
            return ExitStatus.Done;
        });
    }
}
