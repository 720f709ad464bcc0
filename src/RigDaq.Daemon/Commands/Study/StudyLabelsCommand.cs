using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;
using RigDaq.Reports.Labels;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study labels</c>: a sheet of labels to print and cut apart.</summary>
internal static class StudyLabelsCommand
{
    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = TerminalText.StudyId };
        var output = new Option<string>("--out") { Description = TerminalText.StudyLabelsOut, Required = true, HelpName = "FILE" };
        var blind = new Option<bool>("--blind") { Description = TerminalText.StudyLabelsBlind };
        return new Command("labels", TerminalText.StudyLabelsCommand)
            { id, output, blind, StudyStore.Data, StudyStore.Config }.WithBody(parsed =>
        {
            string path = parsed.GetRequiredValue(output);
            if (!string
                .Equals(Path.GetExtension(path), ".pdf",
                StringComparison.OrdinalIgnoreCase)) throw new InputException(TerminalText.StudyLabelsNotPdf(path));
            using StudyStore store = StudyStore.Open(parsed);
            Study study = store.Require(parsed.GetRequiredValue(id));
            if (study.Specimens.Count == 0) throw new InputException(TerminalText.StudyLabelsNone(study.Id));
            File.WriteAllBytes(path, LabelSheet.Pdf(study, parsed.GetValue(blind)));
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study = study.Id, labels = study.Specimens.Count, file = path });
            else CommandRunner.Say(TerminalText.StudyLabelsWritten(study.Specimens.Count, path));
            return ExitStatus.Done;
        });
    }
}
