using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.App.Reporting;
using RigDaq.Archive;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq report STUDY</c>: writes a study's report.</summary>
internal static class ReportCommand
{
    private static readonly Argument<string> Study = new("STUDY") { Description = TerminalText.StudyId };
    private static readonly Option<string> Out = new("--out")
    {
        Description = TerminalText.OptionOutDocument,
        HelpName = "FILE",
        Required = true
    };
    private static readonly Option<bool> NoNames = new("--no-names") { Description = TerminalText.ExportNoNames };
    private static readonly Option<string?> Data = DataOption.Create();
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() => new Command("report", TerminalText.ReportCommand) { Study, Out, NoNames, Data, Config }.WithBody(Run);

    private static int Run(ParseResult parsed)
    {
        string file = parsed.GetRequiredValue(Out);
        if (Path.GetExtension(file).ToLowerInvariant()
            is not (".html" or ".pdf")) throw new InputException(TerminalText.OptionOutEnding(file));
        using OpenFolder data = DataOption.Open(parsed.GetValue(Data), parsed.GetValue(Config));
        RigArchive archive = data.Archive;
        string id = parsed.GetRequiredValue(Study);
        var reporter = new StudyReporter(archive, TimeProvider.System, UnitsOption.Of(parsed, parsed.GetValue(Config)))
        { Names = !parsed.GetValue(NoNames) };
        string written = reporter.Write(id, file)
            ?? throw DataOption.NoSuchStudy(archive.Studies, id);
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { study = id, report = written });
        else CommandPlace.Output.WriteLine(written);
        return ExitStatus.Done;
    }
}
