using System.CommandLine;
using RigDaq.App.Calibrations;
using RigDaq.App.Compliance;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.App.Rigs;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Compliance;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Links;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq compliance measure</c>: pulls on a stiff bar on the rig, a few times, with a person at it.</summary>
internal static class ComplianceMeasureCommand
{
    private const int TriesMax = 10;
    private static readonly TimeSpan AnnouncedDelay = TimeSpan.FromSeconds(3);
    private static readonly Option<string?> Config = ConfigOption.Create();
    private static readonly Option<double> Force = new("--force-N")
    { Description = TerminalText.MeasureForce, DefaultValueFactory = _ => 200 };
    private static readonly Option<double> Speed = new("--speed-mm-per-s")
    {
        Description = TerminalText.MeasureSpeed(BarPullPlan.SpeedMax),
        DefaultValueFactory = _ => 0.05
    };
    private static readonly Option<int> Pulls = new("--pulls") { Description = TerminalText.MeasurePulls, DefaultValueFactory = _ => 3 };

    public static Command Create() => new Command("measure", TerminalText.MeasureCommand)
    {
        Force, Speed, Pulls, ComplianceOptions.Length, ComplianceOptions.Section, ComplianceOptions.Modulus, ComplianceOptions.Remarks,
            Config,
    }.WithBody(RunAsync);

    private static async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        (DaemonOptions options, _, IRigLinkOpener link) = RigAtHand.Read(parsed, Config);
        var plan = new BarPullPlan
        {
            ForceNewtons = parsed.GetValue(Force),
            SpeedMillimetresPerSecond = parsed.GetValue(Speed),
            Pulls = parsed.GetValue(Pulls)
        };
        if (!(plan.ForceNewtons > 0 && plan.ForceNewtons < 1e6)) throw new InputException(TerminalText.OptionAboveZero(Force.Name));
        if (!(plan.SpeedMillimetresPerSecond > 0 && plan.SpeedMillimetresPerSecond <= BarPullPlan.SpeedMax))
            throw new InputException(TerminalText.MeasureSpeedRange(Speed.Name, BarPullPlan.SpeedMax));
        if (plan.Pulls is < 1 or > 10) throw new InputException(TerminalText.MeasurePullsRange(Pulls.Name));
        using var folder = OpenFolder.At(CommandPlace.OfDaemon?.Archive.Folder ?? options.DataFolder);
        var job = new Job
        {
            Link = link,
            SampleRateHertz = options.Serial.SampleRateHertz,
            Plan = plan,
            Bar = ComplianceOptions.Bar(parsed),
            GripSeparationAtHomeMillimetres = options.Sequence.GripSeparationAtHomeMillimetres,
            Remarks = parsed.GetValue(ComplianceOptions.Remarks),
        };
        UnitsOption.Apply(parsed, options.Units);
        ComplianceRecord? record = await RunAsync(job, folder.Archive, CommandPlace.Input,
            words => CommandRunner.Say(words.In(options.Units.Units)), TimeProvider.System, cancellation).ConfigureAwait(false);
        if (record is null) return ExitStatus.CouldNotBeDone;
        if (parsed.GetValue(CommandTree.Json)) ComplianceAnswer.Of(record).Show(json: true, Units.Si);
        return ExitStatus.Done;
    }

    /// <summary>Leads a person through one measurement.</summary>
    /// <returns>What is in force now; null where the person gave up.</returns>
    internal static async Task<ComplianceRecord?> RunAsync(Job job, RigArchive archive, TextReader input, Action<Sentence> say,
        TimeProvider time, CancellationToken cancellation)
    {
        BarPullPlan plan = job.Plan;
        var at = CommandRig.At(job.Link, new RigControllerOptions
        { SampleRateHertz = job.SampleRateHertz, GripSeparationAtHomeMillimetres = job.GripSeparationAtHomeMillimetres }, time);
        await using (at.ConfigureAwait(false))
        {
            RigController rig = at.Controller;
            RigSnapshot up = await RigAtHand.ReadyAsync(rig, cancellation).ConfigureAwait(false);
            string device = up.Device!.Id;
            CalibrationRecord calibration = DeviceCalibration.InForce(archive, device, time)
                ?? throw new CannotBeDoneException(TerminalText.RigNotCalibrated(device));
            (await rig.SetCalibration(calibration).ConfigureAwait(false)).Require();
            var typed = new TypedLines(input);
            var dialogue = new BarDialogue(rig, typed, say);
            foreach (Sentence caution in Cautions.All) say(caution);
            say(TerminalText.MeasureCaution(plan.ForceNewtons, plan.SpeedMillimetresPerSecond, plan.LimitNewtons));
            if (!await typed.SaysAsync("acknowledge", TerminalText.MeasureAskAcknowledge, say, cancellation).ConfigureAwait(false))
                return GivenUp(say);
            if (up.Hello is { } hello && hello.Capabilities.HasFlag(Capabilities.Homing) && !up.Bits.HasFlag(StateBits.Homed)
                && !await dialogue.HomeAsync(cancellation).ConfigureAwait(false)) return GivenUp(say);
            if (!await typed.SaysAsync("zero", TerminalText.MeasureAskZero, say, cancellation).ConfigureAwait(false)) return GivenUp(say);
            (await rig.TakeZeroAsync().ConfigureAwait(false)).Require();
            if (!await typed.SaysAsync("pull", TerminalText.MeasureAskPull, say, cancellation).ConfigureAwait(false)) return GivenUp(say);
            (await rig.SetHandMotionAsync(plan.HandMotion, BarPullPlan.SpeedMax).ConfigureAwait(false)).Require();
            BarPulls? pulls = await PullAsync(rig, job, typed, say, time, cancellation).ConfigureAwait(false);
            if (pulls is null) return GivenUp(say);
            ComplianceFit fit = ComplianceOptions.Measure(TerminalText.MeasureSource(plan.Pulls),
                () => pulls.Fit(calibration.Curve, job.Bar));
            foreach (Sentence line in ComplianceAnswer.Of(TerminalText.MeasureSource(plan.Pulls), fit).Lines()) say(line);
            if (!await typed.SaysAsync("accept", TerminalText.MeasureAskAccept, say, cancellation).ConfigureAwait(false))
                return GivenUp(say);
            ComplianceRecord record = ComplianceCommand.Keep(
                archive, new MeasuredCompliance(device, TerminalText.MeasureSource(plan.Pulls), fit)
                { CalibrationId = calibration.Id, Bar = job.Bar, Remarks = job.Remarks, Pulls = pulls }, time);
            say(TerminalText.MeasureInForce(record.Id));
            return record;
        }
    }

    private static async Task<BarPulls?> PullAsync(RigController rig, Job job, TypedLines typed, Action<Sentence> say, TimeProvider time,
        CancellationToken cancellation)
    {
        var dialogue = new BarDialogue(rig, typed, say);
        var pull = new BarPull(rig, job.Plan);
        for (int tries = 0; tries < TriesMax; tries++)
        {
            rig.AcknowledgeCautions(Cautions.HandMotionScope).Require();
            say(TerminalText.MeasureAnnounced(AnnouncedDelay.TotalSeconds));
            if (await PullOnceAsync(rig, pull, job, typed, say, time, cancellation).ConfigureAwait(false) is { } pulls) return pulls;
            if (pull.IsLoaded && !await dialogue.LetGoAsync(pull, cancellation).ConfigureAwait(false)) return null;
            if (!await typed.SaysAsync("again", TerminalText.MeasureAskAgain, say, cancellation).ConfigureAwait(false)) return null;
        }

        return null;
    }

    /// <summary>All pulls of one measurement.</summary>
    /// <returns>Null where it was stopped, by a person or by what went wrong; that was said.</returns>
    private static async Task<BarPulls?> PullOnceAsync(RigController rig, BarPull pull, Job job, TypedLines typed, Action<Sentence> say,
        TimeProvider time, CancellationToken cancellation)
    {
        var pulls = new List<BarPullSamples>();
        RigSnapshot now = rig.Snapshot;
        BarPulls all = new()
        {
            ZeroCounts = now.ZeroCounts ?? 0,
            StepsPerMillimetre = (now.Hello?.StepsPerMetre ?? 0) / 1000.0,
            Pulls = pulls
        };
        try
        {
            bool done = await typed.WhileWatchedAsync(async watched =>
            {
                await Task.Delay(AnnouncedDelay, time, watched).ConfigureAwait(false);
                for (int i = 0; i < job.Plan.Pulls; i++)
                {
                    bool beds = i == 0 && job.Plan.Pulls > 1;
                    BarPullSamples samples = (await pull.OnceAsync(watched).ConfigureAwait(false)) with { BedsIn = beds };
                    pulls.Add(samples);
                    ComplianceFit fit = ComplianceOptions.Measure(TerminalText.MeasureOfPull(i + 1),
                        () => all.Fit(samples, now.Calibration!.Curve, job.Bar));
                    say(TerminalText.MeasurePulled(i + 1, fit.MillimetresPerNewton, fit.ToNewtons, beds));
                }
            }, cancellation).ConfigureAwait(false);
            if (done) return all;
            say(TerminalText.MeasureStopped);
        }
        catch (CannotBeDoneException fault) when (pull.IsLoaded)
        {
            say(fault.Sentence);
        }
        catch (OperationCanceledException)
        {
            // The program is ended, and with it whoever could type: it must not move any more.
            say(TerminalText.MeasureStopped);
            if (pull.IsLoaded) say(TerminalText.MeasureByHand);
            throw;
        }

        return null;
    }

    private static ComplianceRecord? GivenUp(Action<Sentence> say)
    {
        say(TerminalText.MeasureGivenUp);
        return null;
    }

    /// <summary>What is to be done.</summary>
    internal sealed record Job
    {
        public required IRigLinkOpener Link { get; init; }

        public required BarPullPlan Plan { get; init; }

        public double? SampleRateHertz { get; init; }

        public double GripSeparationAtHomeMillimetres { get; init; }

        public StiffBar? Bar { get; init; }

        public string? Remarks { get; init; }
    }
}
