using System.CommandLine;
using System.Globalization;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Signal;
using RigDaq.Daemon.Configuration;
using RigDaq.Daemon.Hosting;
using RigDaq.Daemon.Input;
using RigDaq.Daemon.Recording;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq calibrate</c>: leads a person through a calibration in the terminal.</summary>
internal static class CalibrationGuideCommand
{
    private static readonly TimeSpan ReadyMax = TimeSpan.FromSeconds(30);

    public static Command Create()
    {
        var command = new Command("calibrate", "Calibrate the rig with weights, step by step; what is read can be stopped and resumed.");
        foreach (Option option in CalibrationGuideOptions.All) command.Options.Add(option);
        return command.WithBody(RunAsync);
    }

    private static async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        string? file = parsed.GetValue(CalibrationGuideOptions.Config);
        DaemonOptions options = OptionsReader.Read(file, Environment.GetEnvironmentVariables());
        string source = file ?? "the environment";
        if (options.Serial.Path is not { } path) throw new InputException($"{source}, key serial.path: missing; expected the rig's port, for example /dev/ttyACM0.");
        bool resume = parsed.GetValue(CalibrationGuideOptions.Resume);
        string? readings = parsed.GetValue(CalibrationGuideOptions.Readings);
        var job = new Job
        {
            DataFolder = options.DataFolder,
            SampleRateHertz = options.Serial.SampleRateHertz,
            Degree = parsed.GetValue(CalibrationGuideOptions.Degree) is >= 1 and <= CalibrationFit.DegreeMax and var degree ? degree : throw new InputException("--degree: 1, 2 or 3 was expected."),
            Resume = resume,
            Plan = resume || readings is not null ? null : CalibrationGuideOptions.Plan(parsed, options, source),
            Readings = readings is null ? null : CalibrationTable.Read(readings),
            ReadingsCircumstances = CalibrationGuideOptions.Circumstances(parsed, options),
            Inputs = CalibrationGuideOptions.Inputs(parsed),
            Link = new SerialRigLinkOpener(new SerialLinkSettings { Path = path, BaudRate = options.Serial.Baud, RaiseDtr = options.Serial.RaiseDtr }),
        };
        CalibrationRecord? record = await RunAsync(job, Console.In, CommandRunner.Say, Tone, TimeProvider.System, cancellation).ConfigureAwait(false);
        if (record is null) return ExitStatus.CouldNotBeDone;
        if (parsed.GetValue(CommandTree.Json))
        {
            var fit = CalibrationFit.Of(record.Readings, record.Fit, record.Uncertainty?.Inputs);
            JsonAnswer.Write(new { calibration = record.Id, device = record.DeviceId, acceptedAt = record.AcceptedAt, validUntil = record.ValidUntil, fit = CalibrationFitAnswer.Of(record.Id, fit) });
        }

        return ExitStatus.Done;
    }

    /// <summary>Leads through one calibration.</summary>
    /// <returns>The record that is in force now; null where the person stopped or gave up.</returns>
    internal static async Task<CalibrationRecord?> RunAsync(Job job, TextReader input, Action<string> say, Action tone, TimeProvider time, CancellationToken cancellation)
    {
        Directory.CreateDirectory(job.DataFolder);
        CalibrationProgress? kept = job.Resume
            ? CalibrationProgress.Load(job.DataFolder) ?? throw new CannotBeDoneException($"There is no stopped calibration in {job.DataFolder}.")
            : null;
        using var archive = new RigArchive(job.DataFolder, time, NullLogger.Instance);
        var services = new RigServices
        {
            Link = job.Link,
            Detectors = (settings, noiseNewtons) => new BreakDetector(settings, noiseNewtons),
            Captures = archive.Captures,
            Recorder = new PullRecorder(archive, archive, archive, archive, time),
            Time = time,
        };
        var rig = new RigController(services, new RigControllerOptions { SampleRateHertz = job.SampleRateHertz });
        await using (rig.ConfigureAwait(false))
        {
            rig.Start();
            RigSnapshot up = await rig.WhenAsync(snapshot => snapshot.Link == LinkStage.Up && snapshot.Counts is not null, ReadyMax, "the rig's hello", cancellation).ConfigureAwait(false);
            string device = up.Device!.Id;
            if (job.Readings is { } table) return AcceptReadings(job, table, device, input, archive, say, time);
            if (kept is not null && kept.DeviceId != device)
                throw new CannotBeDoneException($"The stopped calibration is of the device {kept.DeviceId}; the one connected is {device}. Begin a new one.");
            CalibrationProgress progress = kept ?? Begin(job, device, up, say);
            var session = new CalibrationGuideSession(rig, kept is null ? progress.State : Stopped(progress.State)) { BootNumber = progress.BootNumber };
            session.Changed += state => (progress with { State = state, BootNumber = session.BootNumber }).Save(job.DataFolder);
            say(CalibrationTerminal.Help);
            var terminal = new CalibrationTerminal(session, job.Degree, progress.Inputs, input, say, tone);
            await terminal.RunAsync(resumed: kept is not null, cancellation).ConfigureAwait(false);
            return End(job, session.State, progress, archive, say, time);
        }
    }

    private static CalibrationProgress Begin(Job job, string device, RigSnapshot up, Action<string> say)
    {
        var (plan, circumstances) = job.Plan!.Value;
        (GuideState state, IReadOnlyList<GuidePrompt> prompts) = CalibrationGuide.Begin(plan);
        foreach (GuidePrompt prompt in prompts) say(prompt.Text);
        return new CalibrationProgress(device, null, state, circumstances with { SampleRateHertz = up.SampleRateHertz }, job.Inputs);
    }

    // What was kept while it ran is taken as stopped, so that its pause is judged by the device's clock.
    private static GuideState Stopped(GuideState state) =>
        state.Phase == GuidePhase.Paused ? state : state with { Phase = GuidePhase.Paused, ResumeTo = state.Phase };

    private static CalibrationRecord? End(Job job, GuideState state, CalibrationProgress progress, RigArchive archive, Action<string> say, TimeProvider time)
    {
        if (state.Phase == GuidePhase.Paused)
        {
            say($"Stopped; {state.FitReadings().Count} readings are kept. Go on with: rigdaq calibrate --resume");
            return null;
        }

        if (state.Phase != GuidePhase.Accepted)
        {
            CalibrationProgress.Remove(job.DataFolder);
            return null;
        }

        CalibrationFit fit = CalibrationGuide.Fit(state, job.Degree, progress.Inputs);
        var record = PutInForce(fit, progress.DeviceId, progress.Circumstances with { Remarks = string.Join(" ", state.Notes) }, archive, say, time);

        // Only now: what was read must not be lost where the archive refuses it.
        CalibrationProgress.Remove(job.DataFolder);
        return record;
    }

    private static CalibrationRecord? AcceptReadings(Job job, CalibrationTable table, string device, TextReader input, RigArchive archive, Action<string> say, TimeProvider time)
    {
        CalibrationFit fit = table.Fit(new FitSettings { Degree = job.Degree }, job.Inputs);
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        CalibrationFitText.Write(text, fit);
        say(text.ToString().TrimEnd());
        say($"Type accept to put it in force for the device {device}; anything else leaves the one in force.");
        if (!string.Equals(input.ReadLine()?.Trim(), "accept", StringComparison.OrdinalIgnoreCase))
        {
            say("Given up. The calibration in force stays.");
            return null;
        }

        return PutInForce(fit, device, job.ReadingsCircumstances with { Remarks = "Readings from a file." }, archive, say, time);
    }

    private static CalibrationRecord PutInForce(CalibrationFit fit, string device, CalibrationCircumstances circumstances, RigArchive archive, Action<string> say, TimeProvider time)
    {
        DateTimeOffset now = time.GetUtcNow();
        CalibrationRecord record = CalibrationBuilder.Accept(fit, Guid.CreateVersion7(now).ToString(), device, now, circumstances);
        archive.Save(record);
        say(FormattableString.Invariant($"In force: calibration {record.Id}, until {record.ValidUntil:yyyy-MM-dd}."));
        return record;
    }

    private static void Tone()
    {
        if (!Console.IsErrorRedirected) Console.Error.Write('\a');
    }

    /// <summary>What is to be done.</summary>
    internal sealed record Job
    {
        public required string DataFolder { get; init; }

        public required IRigLinkOpener Link { get; init; }

        public double? SampleRateHertz { get; init; }

        public int Degree { get; init; } = 1;

        public bool Resume { get; init; }

        public (GuidePlan Plan, CalibrationCircumstances Circumstances)? Plan { get; init; }

        /// <summary>Readings that were taken already, instead of a plan.</summary>
        public CalibrationTable? Readings { get; init; }

        public CalibrationCircumstances ReadingsCircumstances { get; init; } = new();

        public UncertaintyInputs Inputs { get; init; } = new();
    }
}
