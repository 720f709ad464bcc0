using System.CommandLine;
using System.Globalization;
using RigDaq.App.Input;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Trace;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Tables.Readings;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq trace FILE...</c>: analyses recorded traces, many at once.</summary>
internal static class TraceCommand
{
    private static readonly Argument<string[]> Files = new("FILE")
    {
        Description = TerminalText.TraceFiles,
        Arity = ArgumentArity.OneOrMore,
    };

    private static readonly Option<string?> CalibrationFile = new("--calibration")
    {
        Description = TerminalText.TraceCalibration,
        HelpName = "FILE",
    };

    private static readonly Option<double> Remaining = new("--remaining")
    {
        Description = TerminalText.TraceRemaining,
        DefaultValueFactory = _ => 40,
    };

    private static readonly Option<double?> Preload = new("--preload")
    {
        Description = TerminalText.TracePreload,
        HelpName = "N",
    };

    private static readonly Option<double> FallTime = new("--fall")
    {
        Description = TerminalText.TraceFallTime,
        DefaultValueFactory = _ => 0.3,
    };

    private static readonly Option<double> Delay = new("--delay")
    {
        Description = TerminalText.TraceDelay,
        HelpName = "SECONDS",
    };

    private static readonly Option<string?> Compliance = new("--compliance")
    {
        Description = TerminalText.TraceCompliance,
        HelpName = "FILE",
    };

    private static readonly Option<string?> Pictures = new("--picture")
    {
        Description = TerminalText.TracePictures,
        HelpName = "FOLDER",
    };

    private static readonly Option<bool> Preview = new("--preview") { Description = TerminalText.ReadingPreview };

    // A long table of another program takes a good deal of memory while it is read.
    private const int FilesAtOnce = 4;

    public static Command Create()
    {
        Require(Remaining, value => value is >= 1 and <= 99, TerminalText.TraceRemainingRange);
        Require(Preload, value => value is >= 0 and < double.PositiveInfinity, TerminalText.TracePreloadRange);
        Require(FallTime, value => value is > 0 and <= 60, TerminalText.TraceFallTimeRange);
        Require(Delay, value => value is >= 0 and <= 1, TerminalText.TraceDelayRange);
        var command = new Command("trace", TerminalText.TraceCommand)
            { Files, CalibrationFile, Remaining, Preload, FallTime, Delay, Compliance, Pictures, Preview };
        foreach (Option option in ReadingOption.All) command.Add(option);
        command.Add(StudyStore.Data);
        command.Add(StudyStore.Config);
        return command.WithBody(Run);
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
        ReadingOptions reading = ReadingOption.Read(parsed);
        if (parsed.GetValue(Preview)) return Look(parsed.GetValue(Files)!, reading, parsed.GetValue(CommandTree.Json));
        bool json = parsed.GetValue(CommandTree.Json);
        Units units = UnitsOption.Of(parsed);
        int worst = ExitStatus.Done;
        string[] files = parsed.GetValue(Files)!;
        string?[] pictures = PictureFiles(files, parsed.GetValue(Pictures));
        ReadingOptions? used = null;
        var answers = files.Zip(pictures).AsParallel().AsOrdered().WithDegreeOfParallelism(FilesAtOnce)
            .WithMergeOptions(ParallelMergeOptions.NotBuffered)
            .Select(one =>
                CurveAnswers.Of(one.First, new TraceWish(curve, settings, compliance, reading, units, parsed.GetValue(Delay), one.Second)));
        foreach (CurveAnswers outcome in answers)
        {
            worst = Math.Max(worst, outcome.Status);
            used ??= outcome.Used;
            foreach (TraceAnswer answer in outcome.Answers)
            {
                if (json) JsonAnswer.Write(answer);
                else foreach (string line in TraceText.Lines(answer, units)) CommandPlace.Output.WriteLine(line);
            }

            if (outcome.Failure is not { } failure) continue;
            CommandRunner.Say(failure.Error);
            if (json) JsonAnswer.Write(failure);
        }

        if (parsed.GetValue(ReadingOption.SaveLayout) is { } name) SaveLayout(parsed, name, used);
        return worst;
    }

    /// <summary>Shows how files would be read; the status says whether all could be.</summary>
    private static int Look(string[] files, ReadingOptions reading, bool json)
    {
        int worst = ExitStatus.Done;
        foreach (string file in files)
        {
            try
            {
                var preview = TracePreview.Of(file, reading);
                if (preview.Faults.Count > 0) worst = Math.Max(worst, ExitStatus.BadInput);
                if (json) JsonAnswer.Write(preview);
                else foreach (string line in preview.Lines()) CommandPlace.Output.WriteLine(line);
            }
            catch (Exception failure) when (CommandRunner.StatusOf(failure) is { } status)
            {
                worst = Math.Max(worst, status);
                CommandRunner.Say(failure.Message);
                if (json) JsonAnswer.Write(new FileFailure(file, failure.Message));
            }
        }

        return worst;
    }

    private static void SaveLayout(ParseResult parsed, string name, ReadingOptions? used)
    {
        if (used is null) throw new InputException(TerminalText.LayoutNothingRead);
        ReadingOption.Store(parsed).Save(name, used);
        CommandRunner.Say(TerminalText.LayoutSaved(name));
    }

    /// <summary>Where each trace's picture goes, without the ending; files of one name in several folders get a number.</summary>
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
            pictures[i] = Path.Combine(folder, free);
        }

        return pictures;
    }
}
