using System.CommandLine;
using System.Globalization;
using RigDaq.App.Calibrations;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Calibration.Guided;
using RigDaq.Core.Calibration.Quality;
using RigDaq.Core.Quantities;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq calibrate</c>: leads a person through a calibration in the terminal.</summary>
internal static class CalibrationGuideCommand
{
    public static Command Create()
    {
        var command = new Command("calibrate", TerminalText.GuideCommand);
        foreach (Option option in CalibrationGuideOptions.All) command.Options.Add(option);
        return command.WithBody(RunAsync);
    }

    private static async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        (DaemonOptions options, string source, IRigLinkOpener link) = RigAtHand.Read(parsed, CalibrationGuideOptions.Config);
        UnitsOption.Apply(parsed, options.Units);
        bool resume = parsed.GetValue(CalibrationGuideOptions.Resume);
        string? readings = parsed.GetValue(CalibrationGuideOptions.Readings);
        var job = new Job
        {
            DataFolder = options.DataFolder,
            SampleRateHertz = options.Serial.SampleRateHertz,
            Degree = parsed.GetValue(CalibrationGuideOptions.Degree) is null or (>= 1 and <= CalibrationFit.DegreeMax)
                ? parsed.GetValue(CalibrationGuideOptions.Degree) : throw new InputException(TerminalText.GuideDegreeRange),
            Resume = resume,
            Plan = resume || readings is not null ? null : CalibrationGuideOptions.Plan(parsed, options, source),
            Readings = readings is null ? null : CalibrationTable.Read(readings),
            ReadingsCircumstances = CalibrationGuideOptions.Circumstances(parsed, options),
            Inputs = CalibrationGuideOptions.Inputs(parsed),
            Units = options.Units.Units,
            Link = link,
        };
        CalibrationRecord? record = await RunAsync(job, CommandPlace.Input, words => CommandRunner.Say(words.In(options.Units.Units)),
            Tone, TimeProvider.System, cancellation).ConfigureAwait(false);
        if (record is null) return ExitStatus.CouldNotBeDone;
        if (parsed.GetValue(CommandTree.Json))
        {
            var fit = CalibrationFit.Of(record.Readings, record.Fit, record.Uncertainty?.Inputs);
            JsonAnswer.Write(new
            {
                calibration = record.Id,
                device = record.DeviceId,
                acceptedAt = record.AcceptedAt,
                validUntil = record.ValidUntil,
                fit = CalibrationFitAnswer.Of(record.Id, fit, [])
            });
        }

        return ExitStatus.Done;
    }

    /// <summary>Leads through one calibration.</summary>
    /// <returns>The record that is in force now; null where the person stopped or gave up.</returns>
    internal static async Task<CalibrationRecord?> RunAsync(Job job, TextReader input, Action<Sentence> say, Action tone, TimeProvider time,
        CancellationToken cancellation)
    {
        using var folder = OpenFolder.At(CommandPlace.OfDaemon?.Archive.Folder ?? job.DataFolder);
        RigArchive archive = folder.Archive;
        var plan = job.Plan?.Invoke(archive.Diary);
        var at = CommandRig.At(job.Link, new RigControllerOptions { SampleRateHertz = job.SampleRateHertz }, time);
        await using (at.ConfigureAwait(false))
        {
            RigController rig = at.Controller;
            RigSnapshot up = await RigAtHand.ReadyAsync(rig, cancellation).ConfigureAwait(false);
            string device = up.Device!.Id;
            if (job.Readings is { } table)
                return await InForceAsync(at, AcceptReadings(job, table, device, input, archive, time, say), say).ConfigureAwait(false);
            GuideState state = job.Resume ? Kept(archive, device) : Begin(job, plan!.Value, up, say);
            var runner = new CalibrationRunner(rig, state);
            await using (runner.ConfigureAwait(false))
            {
                say(TerminalText.GuideWords);
                var terminal = new CalibrationTerminal(runner, job.Degree, job.Units, input, say, tone);
                terminal.Progressed += now => archive.Diary.Save(device, now);
                await terminal.RunAsync(job.Resume, cancellation).ConfigureAwait(false);
            }

            return await InForceAsync(at, End(job, runner.State, device, archive, say, time), say).ConfigureAwait(false);
        }
    }

    private static async Task<CalibrationRecord?> InForceAsync(CommandRig at, CalibrationRecord? kept, Action<Sentence> say)
    {
        if (kept is null) return null;
        await at.PutInForceAsync(kept).ConfigureAwait(false);
        say(TerminalText.GuideInForce(kept.Id, kept.ValidUntil));
        return kept;
    }

    private static GuideState Begin(Job job, (GuidePlan Plan, CalibrationCircumstances Circumstances) made, RigSnapshot up,
        Action<Sentence> say)
    {
        (GuideState state, IReadOnlyList<GuidePrompt> prompts) = CalibrationGuide.Begin(made.Plan, made.Circumstances with
        { SampleRateHertz = up.SampleRateHertz }, job.Inputs);
        foreach (GuidePrompt prompt in prompts) say(prompt.Text);
        return state;
    }

    private static GuideState Kept(RigArchive archive, string device) => archive.Diary.FindGuide(device)?.TakenUp()
        ?? throw new CannotBeDoneException(TerminalText.GuideNoneStopped(device));

    private static CalibrationRecord? End(Job job, GuideState state, string device, RigArchive archive, Action<Sentence> say,
        TimeProvider time)
    {
        if (state.Phase == GuidePhase.Paused) say(TerminalText.GuideStopped(state.FitReadings().Count));
        if (state.Phase != GuidePhase.Accepted) return null;
        return Keep(CalibrationGuide.Fit(state, job.Degree ?? CalibrationGuide.AdvisedDegree(state)), device, state.Circumstances with
        { Remarks = string.Join(" ", state.Notes.AsKept()) }, archive, time);
    }

    private static CalibrationRecord? AcceptReadings(Job job, CalibrationTable table, string device, TextReader input, RigArchive archive,
        TimeProvider time, Action<Sentence> say)
    {
        CalibrationFit fit = table.Fit(new FitSettings { Degree = job.Degree ?? 1 }, job.Inputs);
        if (job.Degree is null && fit.Figures.AdvisedDegree > 1) fit = table.Fit(new FitSettings { Degree = fit.Figures.AdvisedDegree },
            job.Inputs);
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        CalibrationFitText.Write(text, fit, job.Units);
        say(Sentence.Verbatim(text.ToString().TrimEnd()));
        say(TerminalText.GuideAskAccept(device));
        if (!string.Equals(input.ReadLine()?.Trim(), "accept", StringComparison.OrdinalIgnoreCase))
        {
            say(TerminalText.GuideGivenUp);
            return null;
        }

        return Keep(fit, device, job.ReadingsCircumstances with { Remarks = TerminalText.GuideReadingsFromFile }, archive, time);
    }

    private static CalibrationRecord Keep(CalibrationFit fit, string device, CalibrationCircumstances circumstances,
        RigArchive archive, TimeProvider time)
    {
        DateTimeOffset now = time.GetUtcNow();
        CalibrationRecord record = CalibrationBuilder.Accept(fit, Guid.CreateVersion7(now).ToString(), device, now, circumstances);
        archive.Calibrations.Save(record);
        return record;
    }

    private static void Tone()
    {
        if (CommandPlace.OfDaemon is null && Console.IsErrorRedirected) return;
        CommandPlace.Error.Write('\a');
        // Now, and not with the next line.
        CommandPlace.Error.Flush();
    }

    /// <summary>What is to be done.</summary>
    internal sealed record Job
    {
        public required string DataFolder { get; init; }

        public required IRigLinkOpener Link { get; init; }

        public double? SampleRateHertz { get; init; }

        /// <summary>The degree of the curve; null for the one that the readings speak for.</summary>
        public int? Degree { get; init; }

        public bool Resume { get; init; }

        /// <summary>Makes the plan, with the sets of weights that are kept.</summary>
        public Func<RigDiary, (GuidePlan Plan, CalibrationCircumstances Circumstances)>? Plan { get; init; }

        /// <summary>Readings that were taken already, instead of a plan.</summary>
        public CalibrationTable? Readings { get; init; }

        public CalibrationCircumstances ReadingsCircumstances { get; init; } = new();

        public UncertaintyInputs Inputs { get; init; } = new();

        /// <summary>What the person reads.</summary>
        public Units Units { get; init; } = Units.Si;
    }
}
