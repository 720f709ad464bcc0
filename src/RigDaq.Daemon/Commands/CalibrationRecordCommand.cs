using System.CommandLine;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Input;
using RigDaq.Reports.Html;
using RigDaq.Reports.Pdf;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq calibration record ID --out FILE</c>: a calibration's record as a document.</summary>
internal static class CalibrationRecordCommand
{
    private static readonly Argument<string> Id = new("ID") { Description = "The calibration's id, as it was said when it was put in force and as reports name it." };
    private static readonly Option<string> Out = new("--out") { Description = "Where to; .html or .pdf.", HelpName = "FILE", Required = true };
    private static readonly Option<string?> Data = DataOption.Create();
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create() => new Command("record", "Write a calibration's record.") { Id, Out, Data, Config }.WithBody(Run);

    private static int Run(ParseResult parsed)
    {
        string file = parsed.GetRequiredValue(Out);
        if (Path.GetExtension(file).ToLowerInvariant() is not (".html" or ".pdf")) throw new InputException($"--out {file}: expected a name that ends with .html or .pdf.");
        string id = parsed.GetRequiredValue(Id);
        using RigArchive archive = DataOption.Open(parsed.GetValue(Data), parsed.GetValue(Config));
        CalibrationRecord calibration = ((ICalibrationArchive)archive).Find(id) ?? throw new InputException($"ID: there is no calibration {id} in this data folder.");
        Write(calibration, file, UnitsOption.Of(parsed, parsed.GetValue(Config)));
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new { calibration = id, record = Path.GetFullPath(file) });
        else Console.WriteLine(Path.GetFullPath(file));
        return ExitStatus.Done;
    }

    /// <summary>Writes a record; the ending of the name says how.</summary>
    internal static void Write(CalibrationRecord calibration, string file, Units? units = null)
    {
        if (Path.GetExtension(file).Equals(".pdf", StringComparison.OrdinalIgnoreCase)) File.WriteAllBytes(file, CalibrationRecordPdf.Render(calibration, units));
        else File.WriteAllText(file, CalibrationRecordHtml.Render(calibration, units));
    }
}
