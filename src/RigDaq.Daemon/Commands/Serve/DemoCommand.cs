using System.CommandLine;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.App.Rigs;
using RigDaq.App.Text;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Demo;
using RigDaq.Daemon.Text;
using RigDaq.Virtual;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq demo</c>: the main job on a virtual rig, nothing else installed.</summary>
internal static class DemoCommand
{
    private static readonly Option<string?> Data = new("--data") { Description = TerminalText.DemoData, HelpName = "DIR" };
    private static readonly Option<int> Http = new("--http")
    {
        Description = TerminalText.DemoHttp,
        DefaultValueFactory = _ => 8377,
        HelpName = "PORT"
    };
    private static readonly Option<int> Mqtt = new("--mqtt")
    {
        Description = TerminalText.DemoMqtt,
        DefaultValueFactory = _ => 1883,
        HelpName = "PORT"
    };
    private static readonly Option<ulong> Seed = new("--seed")
    {
        Description = TerminalText.DemoSeed,
        DefaultValueFactory = _ => 1,
        HelpName = "N"
    };
    private static readonly Option<double> TimeScale = new("--time-scale")
    { Description = TerminalText.DemoTimeScale, DefaultValueFactory = _ => 4, HelpName = "X" };
    private static readonly Option<int?> Breaks = new("--breaks") { Description = TerminalText.DemoBreaks, HelpName = "N" };
    private static readonly Option<bool> Exit = new("--exit") { Description = TerminalText.DemoExit };
    private static readonly Option<bool> Channels = new("--channels") { Description = TerminalText.DemoChannels };
    private static readonly Option<bool> InProcess = new("--in-process") { Description = TerminalText.DemoInProcess };

    public static Command Create() => new Command("demo", TerminalText.DemoCommand)
    {
        Data, Http, Mqtt, Seed, TimeScale, Breaks, Exit, Channels, InProcess,
    }.WithBody(RunAsync);

    private static async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        DemoOptions options = Read(parsed);
        // As serve does: tried, not needed.
        Rig.Scheduling.TryRaiseProcess();
        DemoRun demo = await DemoRun.StartAsync(options, TimeProvider.System, words => CommandRunner.Say(words.In(options.Units.Units)),
            cancellation).ConfigureAwait(false);
        await using (demo.ConfigureAwait(false))
        {
            if (!options.Exit)
            {
                CommandRunner.Say(TerminalText.ServeDashboard(demo.Host.DashboardAddress));
                if (demo.Host.MqttPort is { } port) CommandRunner.Say(TerminalText.ServeMqtt(port, "rigdaq/kestrel-lane/"));
                if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new
                { dashboard = demo.Host.DashboardAddress, demo.Host.MqttPort, data = demo.Host.DataFolder });
            }

            await demo.StartSequenceAsync(cancellation).ConfigureAwait(false);
            if (!options.Exit) return await StayAsync(demo, options.Units.Units, cancellation).ConfigureAwait(false);
            await demo.WaitForEndAsync(cancellation).ConfigureAwait(false);
            Tell(demo.Finish(), parsed.GetValue(CommandTree.Json), options.Units.Units);
            return ExitStatus.Done;
        }
    }

    /// <summary>The person plays with it: a held sequence is theirs to resume, and Ctrl-C ends it.</summary>
    private static async Task<int> StayAsync(DemoRun demo, Units units, CancellationToken cancellation)
    {
        var progress = new SequenceProgress(words => CommandRunner.Say(words.In(units)), units);
        Task reporting = demo.Host.Rig.WhenAsync(
            snapshot =>
            {
                progress.Show(snapshot);
                return snapshot.Sequence?.Stage == Rig.Sequencing.SequenceStage.Finished;
            },
            Timeout.InfiniteTimeSpan, TerminalText.DemoEnd, cancellation).ContinueWith(
                ended =>
                {
                    if (ended.IsCompletedSuccessfully) CommandRunner.Say(TerminalText.DemoReportOfRunning(demo.Finish().Report));
                },
                CancellationToken.None, TaskContinuationOptions.None, TaskScheduler.Default);
        try
        {
            await demo.Host.WaitForEndAsync(cancellation).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (cancellation.IsCancellationRequested)
        {
            // Ctrl-C is how it is meant to end.
        }

        await reporting.WaitAsync(TimeSpan.FromSeconds(1), CancellationToken.None).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        return ExitStatus.Done;
    }

    private static DemoOptions Read(ParseResult parsed)
    {
        var options = new DemoOptions
        {
            Commands = CommandTree.RunAsync,
            Data = parsed.GetValue(Data),
            HttpPort = parsed.GetValue(Http),
            MqttPort = parsed.GetValue(Mqtt),
            Seed = parsed.GetValue(Seed),
            TimeScale = parsed.GetValue(TimeScale),
            Breaks = parsed.GetValue(Breaks),
            Exit = parsed.GetValue(Exit),
            Channels = parsed.GetValue(Channels),
            Line = parsed.GetValue(InProcess) || OperatingSystem.IsWindows() ? DemoLine.InProcess : DemoLine.Pty,
        };
        DaemonOptions configured = OptionsReader.Read(null, Environment.GetEnvironmentVariables());
        UnitsOption.Apply(parsed, configured.Units);
        options = options with { Units = configured.Units, Log = configured.Log };
        Require(options.HttpPort is >= 0 and <= 65_535, "--http", AppText.OptionRange(0, 65_535));
        Require(options.MqttPort is >= 0 and <= 65_535, "--mqtt", AppText.OptionRange(0, 65_535));
        Require(options.TimeScale is >= VirtualRigOptions.TimeScaleMin and <= VirtualRigOptions.TimeScaleMax, "--time-scale",
            AppText.OptionRange(VirtualRigOptions.TimeScaleMin, VirtualRigOptions.TimeScaleMax));
        Require(options.Breaks is null or (>= 1 and <= DemoScenario.SpecimensMax), "--breaks",
            AppText.OptionRange(1, DemoScenario.SpecimensMax));
        return options;

        static void Require(bool holds, string option, string expected)
        {
            if (!holds) throw new InputException(TerminalText.DemoRefused(option, expected));
        }
    }

    private static void Tell(DemoAnswer answer, bool json, Units units)
    {
        if (json)
        {
            JsonAnswer.Write(answer);
            return;
        }

        Console.WriteLine(TerminalText.DemoStudyDone(answer.Study, answer.Runs,
            answer.Endings.Select(e => TerminalText.DemoEnding(e.Value, e.Key))));
        Console.WriteLine(answer.Calibration.Class is { } value
            ? TerminalText.DemoCalibrationClass(value, answer.Calibration.FromNewtons, answer.Calibration.ToNewtons).In(units)
            : TerminalText.DemoWithoutClass);
        foreach (DemoGroupAnswer group in answer.Groups)
            Console.WriteLine(TerminalText.DemoGroup(group.Material, group.Setting, group.Condition, Figure(group.MeanMegapascals),
                units.Stress.Symbol, group.N, Figure(group.DrawnMeanMegapascals), Figure(group.TruthMegapascals)));
        Console.WriteLine(TerminalText.DemoReport(answer.Report));

        string Figure(double? megapascals) => megapascals is { } value ? units.Stress.Figure(value, 1) : TerminalText.DemoNoFigure;
    }
}
