using System.CommandLine;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Input;
using RigDaq.Reports.Labels;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq study labels</c>: a sheet of labels to print and cut apart.</summary>
internal static class StudyLabelsCommand
{
    public static Command Create()
    {
        var id = new Argument<string>("STUDY") { Description = "The study's id." };
        var output = new Option<string>("--out") { Description = "The PDF to write.", Required = true, HelpName = "FILE" };
        var blind = new Option<bool>("--blind") { Description = "Leave the group off, so that who judges a fracture is not led by it." };
        Option<string?> data = StudyStore.DataOption();
        return new Command("labels", "Specimen labels with a code for machines, as a PDF to print and cut apart.") { id, output, blind, data }.WithBody(parsed =>
        {
            string path = parsed.GetRequiredValue(output);
            if (!string.Equals(Path.GetExtension(path), ".pdf", StringComparison.OrdinalIgnoreCase)) throw new InputException($"--out: a name that ends in .pdf was expected, not {path}.");
            using StudyStore store = StudyStore.Open(parsed.GetValue(data));
            Study study = store.Studies.Require(parsed.GetRequiredValue(id));
            if (study.Specimens.Count == 0) throw new InputException($"The study {study.Id} has no specimens to label.");
            File.WriteAllBytes(path, LabelSheet.Pdf(study, parsed.GetValue(blind)));
            if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study = study.Id, labels = study.Specimens.Count, file = path });
            else CommandRunner.Say($"{study.Specimens.Count} labels in {path}. Print at 100 %.");
            return ExitStatus.Done;
        });
    }
}
