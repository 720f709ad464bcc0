using System.CommandLine;
using System.Globalization;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.Archive;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Core.Uncertainty;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Reports.Pictures;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq uncertainty CALIBRATION --force N</c>: where the uncertainty of a strength comes from on this bench, and what would
/// shrink it.</summary>
internal static class UncertaintyCommand
{
    private const int BarWidth = 40;

    private static readonly Argument<string> Id = new("CALIBRATION") { Description = TerminalText.OriginsCalibration };
    private static readonly Option<double?> Force = new("--force-N") { Description = TerminalText.OriginsForce, Required = true };
    private static readonly Option<double?> Width = new("--width-mm") { Description = TerminalText.OriginsWidth };
    private static readonly Option<double?> Thickness = new("--thickness-mm") { Description = TerminalText.OriginsThickness };
    private static readonly Option<double?> Step = new("--caliper-step-mm") { Description = TerminalText.OriginsStep };
    private static readonly Option<double?> Error = new("--caliper-error-mm") { Description = TerminalText.OriginsError };
    private static readonly Option<double?> Bending = new("--bending-percent") { Description = TerminalText.OriginsBending };
    private static readonly Option<string?> PictureFile = new("--picture") { Description = TerminalText.OriginsPicture, HelpName = "FILE" };
    private static readonly Option<bool> Dark = new("--dark") { Description = TerminalText.PicturesDark };
    private static readonly Option<string?> Data = DataOption.Create();
    private static readonly Option<string?> Config = ConfigOption.Create();

    public static Command Create()
        => new Command("uncertainty", TerminalText.OriginsCommand) { Id, Force, Width, Thickness, Step, Error, Bending, PictureFile, Dark,
        Data, Config }.WithBody(Run);

    private static int Run(ParseResult parsed)
    {
        double force = PositiveOption.Read(parsed, Force)!.Value;
        (double? width, double? thickness) = (PositiveOption.Read(parsed, Width), PositiveOption.Read(parsed, Thickness));
        if (width is null != thickness is null) throw new InputException(TerminalText.OriginsHalfSection(Width.Name, Thickness.Name));
        SectionMeasurement? section = width is not { } w ? null
            : new SectionMeasurement { WidthsMillimetres = [w], ThicknessesMillimetres = [thickness!.Value] };
        if (section is not null && PositiveOption.Read(parsed, Step) is { } step) section = section with { ResolutionMillimetres = step };
        BenchInputs known = OptionsReader.Read(parsed.GetValue(Config), CommandPlace.Settings).Bench;
        var bench = new BenchInputs
        {
            CaliperErrorMillimetres = PositiveOption.ReadOrZero(parsed, Error) ?? known.CaliperErrorMillimetres,
            BendingPercent = PositiveOption.ReadOrZero(parsed, Bending) ?? known.BendingPercent,
        };
        string? picture = parsed.GetValue(PictureFile);
        if (picture is not null && !IsSvg(picture)
            && !IsPng(picture)) throw new InputException(TerminalText.OriginsPictureNotKnown(picture));
        string id = parsed.GetRequiredValue(Id);
        UncertaintyOrigins origins = (ModelOf(id, parsed) is { } model ? UncertaintyOrigins.Of(model, force, section, bench) : null)
            ?? throw new CannotBeDoneException(TerminalText.OriginsUnknown(id));
        if (picture is not null) Draw(origins, picture, parsed.GetValue(Dark));
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(origins);
        else Write(CommandPlace.Output, origins);
        return ExitStatus.Done;
    }

    // A table is fitted as `calibration fit` would: a straight line, what nobody entered assumed.
    private static UncertaintyModel? ModelOf(string idOrTable, ParseResult parsed)
    {
        if (idOrTable.EndsWith(".csv", StringComparison.OrdinalIgnoreCase)) return CalibrationTable.Read(idOrTable)
            .Fit(new FitSettings()).Uncertainty;
        using OpenFolder data = DataOption.Open(parsed.GetValue(Data), parsed.GetValue(Config));
        RigArchive archive = data.Archive;
        return (archive.Calibrations.Find(idOrTable) ?? throw new InputException(TerminalText.CalibrationNotThere(idOrTable))).Uncertainty;
    }

    private static bool IsSvg(string file) => file.EndsWith(".svg", StringComparison.OrdinalIgnoreCase);

    private static bool IsPng(string file) => file.EndsWith(".png", StringComparison.OrdinalIgnoreCase);

    private static void Draw(UncertaintyOrigins origins, string file, bool dark)
    {
        var style = PictureStyle.Page with { Titled = true, Dark = dark };
        Picture picture = OriginsPicture.Of(origins);
        if (IsSvg(file)) File.WriteAllText(file, picture.ToSvg(style));
        else File.WriteAllBytes(file, picture.ToPng(style));
    }

    internal static void Write(TextWriter to, UncertaintyOrigins origins)
    {
        to.WriteLine(TerminalText.OriginsHead(origins.ForceNewtons, NumberText.Significant(origins.ExpandedPercent, 2),
            origins.OfStrength));
        foreach (UncertaintyOrigin origin in origins.Origins)
        {
            string bar = new('█', (int)Math.Round(origin.SharePercent / 100 * BarWidth));
            to.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"  {origin.SharePercent,5:0.0} %  {bar,-BarWidth}  {origin.Name}{(origin.IsAssumed ? TerminalText.OriginsAssumed : "")}"));
        }

        to.WriteLine();
        to.WriteLine(origins.Gains.Count > 0 ? TerminalText.OriginsGains : TerminalText.OriginsNoGain);
        foreach (UncertaintyGain gain in origins.Gains) to
            .WriteLine(TerminalText.OriginsGain(gain.Advice, NumberText.Significant(gain.ExpandedPercent, 2)));
        if (origins.Notes.Count > 0) to.WriteLine();
        foreach (string note in origins.Notes) to.WriteLine($"  {note}");
    }
}
