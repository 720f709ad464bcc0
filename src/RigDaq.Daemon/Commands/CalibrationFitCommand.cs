using System.CommandLine;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Quality;
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

    public static Command Create()
    {
        Degree.AcceptOnlyFromAmong("1", "2", "3");
        return new Command("fit", TerminalText.FitCommand) { File, Degree, Constant, TurnSign, FullScale, NonLinearity }
            .WithBody(Run);
    }

    private static int Run(ParseResult parsed)
    {
        string file = parsed.GetRequiredValue(File);
        var table = CalibrationTable.Read(file);
        var inputs = new UncertaintyInputs { FullScaleNewtons = PositiveOption.Read(parsed, FullScale), NonLinearityPercent = PositiveOption.Read(parsed, NonLinearity) };
        var fit = table.Fit(new FitSettings
        {
            Degree = parsed.GetValue(Degree),
            Constant = parsed.GetValue(Constant),
            NegativeSlopeAccepted = parsed.GetValue(TurnSign),
        }, inputs);
        if (parsed.GetValue(CommandTree.Json))
        {
            JsonAnswer.Write(CalibrationFitAnswer.Of(file, fit));
            foreach (string warning in fit.Figures.Warnings) CommandRunner.Say(TerminalText.InputIn(file, warning));
        }
        else
        {
            CalibrationFitText.Write(Console.Out, fit, UnitsOption.Of(parsed));
        }

        return ExitStatus.Done;
    }
}
