using System.CommandLine;
using System.Globalization;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Configuration;
using RigDaq.Daemon.Demo;
using RigDaq.Daemon.Hosting;
using RigDaq.Daemon.Input;
using RigDaq.Virtual;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq demo</c>: the main job on a virtual rig, nothing else installed.</summary>
internal static class DemoCommand
{
    private static readonly Option<string?> Data = new("--data") { Description = "The data folder; by default the demo's own below the user's data folder.", HelpName = "DIR" };
    private static readonly Option<int> Http = new("--http") { Description = "The dashboard's port; 0 for any free one.", DefaultValueFactory = _ => 8377, HelpName = "PORT" };
    private static readonly Option<int> Mqtt = new("--mqtt") { Description = "The broker's port; 0 for any free one.", DefaultValueFactory = _ => 1883, HelpName = "PORT" };
    private static readonly Option<ulong> Seed = new("--seed") { Description = "The same seed gives the same strengths.", DefaultValueFactory = _ => 1, HelpName = "N" };
    private static readonly Option<double> TimeScale = new("--time-scale") { Description = "The rig's clock runs so many times faster; safety timers stay in wall time.", DefaultValueFactory = _ => 4, HelpName = "X" };
    private static readonly Option<int?> Breaks = new("--breaks") { Description = "How many specimens to break; few give fewer groups, with at least three each.", HelpName = "N" };
    private static readonly Option<bool> Exit = new("--exit") { Description = "Write the report and end, instead of staying up." };
    private static readonly Option<bool> InProcess = new("--in-process") { Description = "Connect the virtual rig by pipes, not by a pseudo-terminal." };

    public static Command Create() => new Command("demo", "The daemon with a virtual rig, an embedded broker, a data folder of its own and the dashboard.")
    {
        Data, Http, Mqtt, Seed, TimeScale, Breaks, Exit, InProcess,
    }.WithBody(RunAsync);

    private static async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        DemoOptions options = Read(parsed);
        DemoRun demo = await DemoRun.StartAsync(options, TimeProvider.System, CommandRunner.Say, cancellation).ConfigureAwait(false);
        await using (demo.ConfigureAwait(false))
        {
            if (!options.Exit)
            {
                CommandRunner.Say($"Dashboard: {demo.Host.DashboardAddress}");
                if (demo.Host.MqttPort is { } port) CommandRunner.Say(string.Create(CultureInfo.InvariantCulture, $"MQTT: 127.0.0.1:{port}, topics below rigdaq/kestrel-lane/"));
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
        var progress = new SequenceProgress(CommandRunner.Say, units);
        Task reporting = demo.Host.Rig.WhenAsync(
            snapshot =>
            {
                progress.Show(snapshot);
                return snapshot.Sequence?.Stage == Rig.Sequencing.SequenceStage.Finished;
            },
            Timeout.InfiniteTimeSpan, "the end of the sequence", cancellation).ContinueWith(
                ended =>
                {
                    if (ended.IsCompletedSuccessfully) CommandRunner.Say($"Report: {demo.Finish().Report}. Ctrl-C ends the daemon.");
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
            Data = parsed.GetValue(Data),
            HttpPort = parsed.GetValue(Http),
            MqttPort = parsed.GetValue(Mqtt),
            Seed = parsed.GetValue(Seed),
            TimeScale = parsed.GetValue(TimeScale),
            Breaks = parsed.GetValue(Breaks),
            Exit = parsed.GetValue(Exit),
            Line = parsed.GetValue(InProcess) || OperatingSystem.IsWindows() ? DemoLine.InProcess : DemoLine.Pty,
        };
        UnitChoice configured = OptionsReader.Read(null, Environment.GetEnvironmentVariables()).Units;
        UnitsOption.Apply(parsed, configured);
        options = options with { Units = configured };
        Require(options.HttpPort is >= 0 and <= 65_535, "--http", "0 to 65535");
        Require(options.MqttPort is >= 0 and <= 65_535, "--mqtt", "0 to 65535");
        Require(options.TimeScale is >= VirtualRigOptions.TimeScaleMin and <= VirtualRigOptions.TimeScaleMax, "--time-scale", string.Create(CultureInfo.InvariantCulture, $"{VirtualRigOptions.TimeScaleMin} to {VirtualRigOptions.TimeScaleMax}"));
        Require(options.Breaks is null or (>= 1 and <= DemoScenario.SpecimensMax), "--breaks", $"1 to {DemoScenario.SpecimensMax}");
        return options;

        static void Require(bool holds, string option, string expected)
        {
            if (!holds) throw new InputException($"{option}: expected {expected}.");
        }
    }

    private static void Tell(DemoAnswer answer, bool json, Units units)
    {
        if (json)
        {
            JsonAnswer.Write(answer);
            return;
        }

        Console.WriteLine($"Study {answer.Study}: {answer.Runs} runs ({string.Join(", ", answer.Endings.Select(e => $"{e.Value} {e.Key}"))})");
        Console.WriteLine(answer.Calibration.Class is { } value
            ? UnitWords.In(string.Create(CultureInfo.InvariantCulture, $"Calibration: class {value} from {answer.Calibration.FromNewtons:0.#} N to {answer.Calibration.ToNewtons:0.#} N (the rig's own check, no accredited verification)"), units)
            : "Calibration: no class");
        foreach (DemoGroupAnswer group in answer.Groups)
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {group.Material} {group.Setting} °C {group.Condition}: {Figure(group.MeanMegapascals)} {units.Stress.Symbol} from {group.N} (drawn {Figure(group.DrawnMeanMegapascals)}, population {Figure(group.TruthMegapascals)})"));
        Console.WriteLine($"Report: {answer.Report}");

        string Figure(double? megapascals) => megapascals is { } value ? units.Stress.Figure(value, 1) : "none";
    }
}
