using System.CommandLine;
using RigDaq.App.Text;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq calibration fit FILE</c>: a curve from readings at known forces, and how good it is.</summary>
internal static class CalibrationFitCommand
{
    private static readonly Argument<string> File = new("FILE") { Description = TerminalText.FitFile };

    private static readonly Option<int> Degree = new("--degree")
    {
        Description = TerminalText.FitDegree,
        DefaultValueFactory = _ => 1,
    };

    private static readonly Option<bool> Constant = new("--constant") { Description = TerminalText.FitConstant };

    private static readonly Option<bool> TurnSign = new("--turn-sign")
    {
        Description = TerminalText.FitTurnSign,
    };

    private static readonly Option<double?> FullScale = new("--full-scale-N") { Description = TerminalText.FitFullScale };

    private static readonly Option<double?> NonLinearity = new("--non-linearity-percent")
    {
        Description = TerminalText.FitNonLinearity,
    };

    private static readonly Option<bool> BestLine = new("--best-line") { Description = TerminalText.FitBestLine };
    private static readonly Option<double?> TemperatureEffect = new("--temperature-percent-per-K")
    { Description = TerminalText.FitTemperatureEffect };
    private static readonly Option<double?> TemperatureSpread = new("--temperature-spread-K")
    { Description = TerminalText.FitTemperatureSpread };
    private static readonly Option<string?> At = new("--at") { Description = TerminalText.FitAt, HelpName = "N,N..." };
    private static readonly Option<string> Way = new("--way") { Description = TerminalText.FitWay, DefaultValueFactory = _ => "rising" };

    public static Command Create()
    {
        Degree.AcceptOnlyFromAmong("1", "2", "3");
        Way.AcceptOnlyFromAmong("rising", "falling", "unknown");
        return new Command("fit", TerminalText.FitCommand)
        {
            File, Degree, Constant, TurnSign, FullScale, NonLinearity, BestLine, TemperatureEffect, TemperatureSpread, At, Way,
        }.WithBody(Run);
    }

    private static int Run(ParseResult parsed)
    {
        string file = parsed.GetRequiredValue(File);
        var table = CalibrationTable.Read(file);
        IReadOnlyList<double> forces = ForceList.Read(At.Name, parsed.GetValue(At));
        var inputs = new UncertaintyInputs
        {
            FullScaleNewtons = PositiveOption.Read(parsed, FullScale),
            NonLinearityPercent = PositiveOption.Read(parsed, NonLinearity),
            NonLinearityOfBestLine = parsed.GetValue(BestLine),
            TemperaturePercentPerKelvin = PositiveOption.ReadOrZero(parsed, TemperatureEffect),
            TemperatureSpreadKelvin = PositiveOption.ReadOrZero(parsed, TemperatureSpread),
        };
        var fit = table.Fit(new FitSettings
        {
            Degree = parsed.GetValue(Degree),
            Constant = parsed.GetValue(Constant),
            NegativeSlopeAccepted = parsed.GetValue(TurnSign),
        }, inputs);
        LoadWay way = parsed.GetValue(Way) switch { "falling" => LoadWay.Falling, "unknown" => LoadWay.Unknown, _ => LoadWay.Rising };
        ForceUncertainty[] at = [.. forces.Select(force => ForceUncertainty.Of(fit.Uncertainty, force, way))];
        if (parsed.GetValue(CommandTree.Json))
        {
            JsonAnswer.Write(CalibrationFitAnswer.Of(file, fit, at));
            foreach (string warning in fit.Figures.Warnings) CommandRunner.Say(AppText.InputIn(file, warning));
        }
        else
        {
            Units units = UnitsOption.Of(parsed);
            CalibrationFitText.Write(Console.Out, fit, units);
            CalibrationFitText.WriteAt(Console.Out, at, units);
        }

        return ExitStatus.Done;
    }
}
