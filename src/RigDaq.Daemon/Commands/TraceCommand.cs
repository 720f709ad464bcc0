using System.CommandLine;
using System.Globalization;
using RigDaq.Core.Calibration;
using RigDaq.Core.Quantities;
using RigDaq.Core.Signal;
using RigDaq.Core.Strength;
using RigDaq.Reports.Pictures;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq trace FILE...</c>: analyses recorded traces, many at once.</summary>
internal static class TraceCommand
{
    private static readonly Argument<string[]> Files = new("FILE")
    {
        Description = "CSV files with time_s and force_N or counts, optionally position_mm.",
        Arity = ArgumentArity.OneOrMore,
    };

    private static readonly Option<string?> CalibrationFile = new("--calibration")
    {
        Description = "What `rigdaq calibration fit --json` printed; needed for traces in counts.",
        HelpName = "FILE",
    };

    private static readonly Option<double> Remaining = new("--remaining")
    {
        Description = "A fall below this share of the running maximum is a break, in per cent.",
        DefaultValueFactory = _ => 40,
    };

    private static readonly Option<double?> Preload = new("--preload")
    {
        Description = "The preload in newtons; contact is the greater of it and 10 × noise.",
        HelpName = "N",
    };

    private static readonly Option<double> FallTime = new("--fall")
    {
        Description = "The longest fall from 1.5 × remaining to remaining that is still a break, in seconds.",
        DefaultValueFactory = _ => 0.3,
    };

    private static readonly Option<string?> Compliance = new("--compliance")
    {
        Description = "The machine's give, taken off extension, slope and work: what `rigdaq compliance fit --json` printed.",
        HelpName = "FILE",
    };

    private static readonly Option<string?> Pictures = new("--picture")
    {
        Description = "Draws each trace with what was read from it into this folder, as SVG.",
        HelpName = "FOLDER",
    };

    public static Command Create()
    {
        Require(Remaining, value => value is >= 1 and <= 99, "--remaining takes 1 to 99 per cent.");
        Require(Preload, value => value is >= 0 and < double.PositiveInfinity, "--preload takes 0 N or more.");
        Require(FallTime, value => value is > 0 and <= 60, "--fall takes more than 0 and at most 60 s.");
        return new Command("trace", "Analyses recorded traces.") { Files, CalibrationFile, Remaining, Preload, FallTime, Compliance, Pictures }.WithBody(Run);
    }

    // A text that is no number at all is refused by the parser itself.
    private static void Require(Option option, Func<double, bool> holds, string message) => option.Validators.Add(result =>
    {
        if (result.Tokens.Count == 1
            && double.TryParse(result.Tokens[0].Value, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && !holds(value))
            result.AddError(message);
    });

    private static int Run(ParseResult parsed)
    {
        var settings = new DetectionSettings
        {
            RemainingPercent = parsed.GetValue(Remaining),
            PreloadNewtons = parsed.GetValue(Preload),
            FallSeconds = parsed.GetValue(FallTime),
        };
        ForceCurve? curve = parsed.GetValue(CalibrationFile) is { } file ? TraceFile.Calibration(file) : null;
        MachineCompliance? compliance = parsed.GetValue(Compliance) is { } measured ? ComplianceFile.Read(measured) : null;
        bool json = parsed.GetValue(CommandTree.Json);
        Units units = UnitsOption.Of(parsed);
        int worst = ExitStatus.Done;
        string[] files = parsed.GetValue(Files)!;
        string?[] pictures = PictureFiles(files, parsed.GetValue(Pictures));
        var answers = files.Zip(pictures).AsParallel().AsOrdered()
            .WithMergeOptions(ParallelMergeOptions.NotBuffered)
            .Select(one => Answer(one.First, curve, settings, compliance, one.Second, units));
        foreach (Outcome outcome in answers)
        {
            worst = Math.Max(worst, outcome.Status);
            if (outcome.Failure is { } failure)
            {
                CommandRunner.Say(failure.Error);
                if (json) JsonAnswer.Write(failure);
            }
            else if (json)
            {
                JsonAnswer.Write(outcome.Answer!);
            }
            else
            {
                foreach (string line in TraceText.Lines(outcome.Answer!, units)) Console.Out.WriteLine(line);
            }
        }

        return worst;
    }

    /// <summary>Where each trace's picture goes; files of one name in several folders get a number.</summary>
    private static string?[] PictureFiles(string[] files, string? folder)
    {
        if (folder is null) return new string?[files.Length];
        Directory.CreateDirectory(folder);
        var taken = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        var pictures = new string?[files.Length];
        for (int i = 0; i < files.Length; i++)
        {
            string name = Path.GetFileNameWithoutExtension(files[i]);
            string free = name;
            for (int n = 2; !taken.Add(free); n++) free = $"{name}-{n}";
            pictures[i] = Path.Combine(folder, free + ".svg");
        }

        return pictures;
    }

    private static Outcome Answer(string file, ForceCurve? curve, DetectionSettings settings, MachineCompliance? compliance, string? picture, Units units)
    {
        try
        {
            AnalysedTrace trace = TraceFile.Analyse(file, curve, settings, compliance);
            if (picture is not null)
            {
                string name = Path.GetFileNameWithoutExtension(file);
                File.WriteAllText(picture, MarkedTracePicture.Of(name, trace, units).ToSvg(PictureStyle.Page with { Titled = true }));
            }

            return new Outcome(TraceAnswer.Of(file, trace.Reading) with { Picture = picture }, null, ExitStatus.Done);
        }
        catch (Exception failure) when (CommandRunner.StatusOf(failure) is { } status)
        {
            return new Outcome(null, new FileFailure(file, failure.Message), status);
        }
    }

    private sealed record Outcome(TraceAnswer? Answer, FileFailure? Failure, int Status);
}
