using System.CommandLine;
using System.Threading.Channels;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Quantities;
using RigDaq.Core.Signal;
using RigDaq.Core.Strength;
using RigDaq.Daemon.Calibrating;
using RigDaq.Daemon.Configuration;
using RigDaq.Daemon.Hosting;
using RigDaq.Daemon.Input;
using RigDaq.Rig.Control;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Links;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq compliance measure</c>: pulls on a stiff bar on the rig, a few times, with a person at it.</summary>
internal static class ComplianceMeasureCommand
{
    private static readonly TimeSpan ReadyMax = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan AnnouncedDelay = TimeSpan.FromSeconds(3);
    private static readonly Option<string?> Config = ConfigOption.Create();
    private static readonly Option<double> Force = new("--force-N") { Description = "The force to pull to; the device's own limit stands a quarter above it. About what specimens bear, well below the cell's capacity.", DefaultValueFactory = _ => 200 };
    private static readonly Option<double> Speed = new("--speed-mm-per-s") { Description = $"The crosshead's speed, up to {BarPullPlan.SpeedMax}.", DefaultValueFactory = _ => 0.05 };
    private static readonly Option<int> Pulls = new("--pulls") { Description = "How often, 1 to 10; of several the first only beds the grips in.", DefaultValueFactory = _ => 3 };

    public static Command Create() => new Command("measure", "Pull on a stiff bar on the rig, and put what is measured in force.")
    {
        Force, Speed, Pulls, ComplianceOptions.Length, ComplianceOptions.Section, ComplianceOptions.Modulus, ComplianceOptions.Remarks, Config,
    }.WithBody(RunAsync);

    private static async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        string? file = parsed.GetValue(Config);
        DaemonOptions options = OptionsReader.Read(file, Environment.GetEnvironmentVariables());
        if (options.Serial.Path is not { } path) throw new InputException($"{file ?? "the environment"}, key serial.path: missing; expected the rig's port, for example /dev/ttyACM0.");
        var plan = new BarPullPlan { ForceNewtons = parsed.GetValue(Force), SpeedMillimetresPerSecond = parsed.GetValue(Speed), Pulls = parsed.GetValue(Pulls) };
        if (!(plan.ForceNewtons > 0 && plan.ForceNewtons < 1e6)) throw new InputException($"{Force.Name}: a number above 0 was expected.");
        if (!(plan.SpeedMillimetresPerSecond > 0 && plan.SpeedMillimetresPerSecond <= BarPullPlan.SpeedMax))
            throw new InputException($"{Speed.Name}: above 0 and up to {BarPullPlan.SpeedMax} mm/s was expected: a stiff bar takes the force up at once.");
        if (plan.Pulls is < 1 or > 10) throw new InputException($"{Pulls.Name}: 1 to 10 was expected.");
        using var archive = new RigArchive(options.DataFolder, TimeProvider.System, NullLogger.Instance);
        var job = new Job
        {
            Link = DeviceLine.Opener(options.Serial, path, TimeProvider.System),
            SampleRateHertz = options.Serial.SampleRateHertz,
            Plan = plan,
            Bar = ComplianceOptions.Bar(parsed),
            Remarks = parsed.GetValue(ComplianceOptions.Remarks),
        };
        UnitsOption.Apply(parsed, options.Units);
        ComplianceRecord? record = await RunAsync(job, archive, Console.In, words => CommandRunner.Say(UnitWords.In(words, options.Units.Units)), TimeProvider.System, cancellation).ConfigureAwait(false);
        if (record is null) return ExitStatus.CouldNotBeDone;
        if (parsed.GetValue(CommandTree.Json)) ComplianceAnswer.Of(record).Show(json: true, Units.Si);
        return ExitStatus.Done;
    }

    /// <summary>Leads a person through one measurement.</summary>
    /// <returns>What is in force now; null where the person gave up.</returns>
    internal static async Task<ComplianceRecord?> RunAsync(Job job, RigArchive archive, TextReader input, Action<string> say, TimeProvider time, CancellationToken cancellation)
    {
        var idle = new NothingPulled();
        BarPullPlan plan = job.Plan;
        double limit = BarPullPlan.LimitTimes * plan.ForceNewtons;
        var rig = new RigController(
            new RigServices { Link = job.Link, Detectors = (settings, noise) => new BreakDetector(settings, noise), Captures = idle, Recorder = idle, Time = time },
            new RigControllerOptions
            {
                SampleRateHertz = job.SampleRateHertz,
                HandSpeedMaxMillimetresPerSecond = BarPullPlan.SpeedMax,
                HandMotion = new PullSettings { ForceLimitNewtons = limit, CompressionLimitNewtons = Math.Min(50, limit) },
            });
        await using (rig.ConfigureAwait(false))
        {
            rig.Start();
            RigSnapshot up = await rig.WhenAsync(s => s.Link == LinkStage.Up && s.Counts is not null, ReadyMax, "the rig's hello", cancellation).ConfigureAwait(false);
            string device = up.Device!.Id;
            CalibrationRecord calibration = CalibrationValidity.InForce(archive.OfDevice(device), time.GetUtcNow(), new RigAsItIs(device), archive.Invalidations(device))
                ?? throw new CannotBeDoneException($"No calibration is in force for the device {device}: calibrate it first (rigdaq calibrate).");
            Require(await rig.SetCalibration(calibration).ConfigureAwait(false));
            var typed = new TypedLines(input);
            foreach (string caution in Cautions.All) say(caution);
            say(FormattableString.Invariant($"A stiff bar takes up force at once: a tenth of a millimetre can be hundreds of newtons, and a bar that slides or springs out hits hands and faces. It is pulled to {plan.ForceNewtons:0} N at {plan.SpeedMillimetresPerSecond} mm/s; the device stops by itself at {limit:0} N. Keep that below what cell, frame and grips are made for."));
            if (!await typed.SaysAsync("acknowledge", "Type acknowledge if you have read this.", say, cancellation).ConfigureAwait(false)) return GivenUp(say);
            if (!await typed.SaysAsync("zero", "Hold the bar in one grip, the other one open. Type zero for the force's zero.", say, cancellation).ConfigureAwait(false)) return GivenUp(say);
            Require(await rig.TakeZeroAsync().ConfigureAwait(false));
            if (!await typed.SaysAsync("pull", "Close the other grip, keep the force near zero, close the guard, take hands out. Type pull; any line typed later stops it.", say, cancellation).ConfigureAwait(false)) return GivenUp(say);
            Require(rig.AcknowledgeCautions(Cautions.HandMotionScope));
            say($"Pulling in {AnnouncedDelay.TotalSeconds:0} s: keep clear.");
            ComplianceFit? fit = await PullAsync(rig, job, typed, say, time, cancellation).ConfigureAwait(false);
            if (fit is null) return GivenUp(say);
            foreach (string line in ComplianceAnswer.Of(Source(plan), fit).Lines(Units.Si)) say(line);
            if (!await typed.SaysAsync("accept", "Type accept to put it in force: it is then taken off the extensions of later runs. Anything else leaves things as they are.", say, cancellation).ConfigureAwait(false)) return GivenUp(say);
            ComplianceRecord record = ComplianceCommand.Keep(archive, device, Source(plan), calibration.Id, job.Bar, job.Remarks, fit, time);
            say($"In force: compliance {record.Id}. Earlier runs are read with it by: rigdaq study recompute STUDY --compliance {record.Id}");
            return record;
        }
    }

    private static async Task<ComplianceFit?> PullAsync(RigController rig, Job job, TypedLines typed, Action<string> say, TimeProvider time, CancellationToken cancellation)
    {
        using var stopped = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        using var watched = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        Task watching = StopWhenTypedAsync(typed, stopped, watched.Token);
        try
        {
            await Task.Delay(AnnouncedDelay, time, stopped.Token).ConfigureAwait(false);
            var fits = new List<ComplianceFit>();
            var pull = new BarPull(rig, job.Plan);
            for (int i = 0; i < job.Plan.Pulls; i++)
            {
                AnalysedTrace trace = await pull.OnceAsync(stopped.Token).ConfigureAwait(false);
                ComplianceFit fit = ComplianceOptions.Measure($"pull {i + 1}", trace, job.Bar);
                bool beds = i == 0 && job.Plan.Pulls > 1;
                say(FormattableString.Invariant($"Pull {i + 1}: {1000 * fit.MillimetresPerNewton:G4} µm/N up to {fit.ToNewtons:0} N{(beds ? " (beds the grips in, is not counted)" : "")}."));
                if (!beds) fits.Add(fit);
            }

            return ComplianceFit.Mean(fits);
        }
        catch (OperationCanceledException) when (!cancellation.IsCancellationRequested)
        {
            say("Stopped. The bar may be under load: look at the force before a grip is opened.");
            return null;
        }
        finally
        {
            await watched.CancelAsync().ConfigureAwait(false);
            await watching.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }
    }

    private static async Task StopWhenTypedAsync(TypedLines typed, CancellationTokenSource stopped, CancellationToken watched)
    {
        try
        {
            await typed.NextAsync(watched).ConfigureAwait(false);
        }
        catch (ChannelClosedException)
        {
            // The terminal is gone, and with it whoever could have stopped it.
        }

        await stopped.CancelAsync().ConfigureAwait(false);
    }

    private static string Source(BarPullPlan plan) => plan.Pulls switch
    {
        1 => "one pull on the bar",
        2 => "one pull on the bar, after one that bedded the grips in",
        _ => $"{plan.Pulls - 1} pulls on the bar, after one that bedded the grips in",
    };

    private static ComplianceRecord? GivenUp(Action<string> say)
    {
        say("Given up. Nothing was changed.");
        return null;
    }

    private static void Require(CommandResult result)
    {
        if (!result.Done) throw new CannotBeDoneException(result.Message);
    }

    /// <summary>What is to be done.</summary>
    internal sealed record Job
    {
        public required IRigLinkOpener Link { get; init; }

        public required BarPullPlan Plan { get; init; }

        public double? SampleRateHertz { get; init; }

        public StiffBar? Bar { get; init; }

        public string? Remarks { get; init; }
    }

    /// <summary>Typed lines by a thread of their own: a console read cannot be given up.</summary>
    private sealed class TypedLines
    {
        private readonly Channel<string> _lines = Channel.CreateBounded<string>(16);

        public TypedLines(TextReader input) => new Thread(() => Read(input)) { IsBackground = true, Name = "typed words" }.Start();

        public ValueTask<string> NextAsync(CancellationToken cancellation) => _lines.Reader.ReadAsync(cancellation);

        public async Task<bool> SaysAsync(string word, string prompt, Action<string> say, CancellationToken cancellation)
        {
            // What was typed before was meant for something else.
            while (_lines.Reader.TryRead(out _)) { }
            say(prompt);
            try
            {
                return string.Equals((await NextAsync(cancellation).ConfigureAwait(false)).Trim(), word, StringComparison.OrdinalIgnoreCase);
            }
            catch (ChannelClosedException)
            {
                return false;
            }
        }

        private void Read(TextReader input)
        {
            try
            {
                while (input.ReadLine() is { } line) _lines.Writer.WriteAsync(line).AsTask().Wait();
            }
            catch (Exception fault) when (fault is IOException or ObjectDisposedException)
            {
                // The terminal is gone: the same as the end of input.
            }

            _lines.Writer.TryComplete();
        }
    }
}
