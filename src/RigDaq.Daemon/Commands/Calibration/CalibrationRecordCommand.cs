using System.CommandLine;
using RigDaq.App.Input;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Reports.Html;
using RigDaq.Reports.Pdf;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq calibration record ID --out FILE</c>: a calibration's record as a document.</summary>
internal static class CalibrationRecordCommand
{
    private static readonly Argument<string> Id = new("ID") { Description = TerminalText.CalibrationRecordId };
    private static readonly Option<string> Out = new("--out")
    {
        Description = TerminalText.OptionOutDocument,
        HelpName = "FILE",
        Required = true
    };
    private static readonly Option<string?> Data = DataOption.Create();
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() => new Command("record", TerminalText.CalibrationRecordCommand) { Id, Out, Data, Config }.WithBody(Run);

    private static int Run(ParseResult parsed)
    {
        string file = parsed.GetRequiredValue(Out);
        if (Path.GetExtension(file).ToLowerInvariant()
            is not (".html" or ".pdf")) throw new InputException(TerminalText.OptionOutEnding(file));
        string id = parsed.GetRequiredValue(Id);
        using OpenFolder data = DataOption.Open(parsed.GetValue(Data), parsed.GetValue(Config));
        RigArchive archive = data.Archive;
        CalibrationRecord calibration = archive.Calibrations.Find(id)
            ?? throw new InputException(TerminalText.CalibrationNotThere(id));
        Write(calibration, file, UnitsOption.Of(parsed, parsed.GetValue(Config)));
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { calibration = id, record = Path.GetFullPath(file) });
        else CommandPlace.Output.WriteLine(Path.GetFullPath(file));
        return ExitStatus.Done;
    }

    /// <summary>Writes a record; the ending of the name says how.</summary>
    internal static void Write(CalibrationRecord calibration, string file, Units? units = null)
    {
        if (Path.GetExtension(file).Equals(".pdf", StringComparison.OrdinalIgnoreCase)) File.WriteAllBytes(file,
            CalibrationRecordPdf.Render(calibration, units));
        else File.WriteAllText(file, CalibrationRecordHtml.Render(calibration, units));
    }
}
