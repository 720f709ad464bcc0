using System.CommandLine;
using RigDaq.App.Calibrations;
using RigDaq.App.Configuration;
using RigDaq.App.Input;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.References;
using RigDaq.Core.Calibration.Watching;
using RigDaq.Daemon.Terminal;
using RigDaq.Daemon.Text;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary><c>rigdaq check-weight</c>: one mass, read before work, on a control chart.</summary>
internal static class CheckWeightCommand
{
    private static readonly Option<string?> Config = ConfigOption.Create();
    private static readonly Option<string?> Weights = new("--weights")
    {
        Description = TerminalText.CheckWeightWeights,
        HelpName = "SET",
    };

    public static Command Create() => new Command("check-weight", TerminalText.CheckWeightCommand) { Weights, Config }.WithBody(RunAsync);

    private static async Task<int> RunAsync(ParseResult parsed, CancellationToken cancellation)
    {
        (DaemonOptions options, string source, IRigLinkOpener link) = RigAtHand.Read(parsed, Config);
        UnitsOption.Apply(parsed, options.Units);
        using var folder = OpenFolder.At(CommandPlace.OfDaemon?.Archive.Folder ?? options.DataFolder);
        RigArchive archive = folder.Archive;
        ReferenceForce? reference = parsed.GetValue(Weights) is { } set
            ? ReferenceForces.Hanging(CalibrationWeightsFile.Find(set, archive.Diary).Weights,
                CalibrationGuideOptions.Gravity(options.Site, source), AirDensity.AtHeight(options.Site.HeightMetres))
            : null;
        (double newtons, CheckWeight says) = await RunAsync(archive, link, reference,
            words => CommandRunner.Say(words.In(options.Units.Units)), TimeProvider.System, cancellation).ConfigureAwait(false);
        if (parsed.GetValue(CommandTree.Json)) JsonAnswer.Write(new
        { forceNewtons = newtons, verdict = says.Verdict.ToString().ToLowerInvariant(), says.Sentence });
        else CommandPlace.Output.WriteLine(says.Sentence.In(options.Units.Units));
        return says.AsksForCalibration ? ExitStatus.CouldNotBeDone : ExitStatus.Done;
    }

    /// <summary>Reads once and keeps the reading.</summary>
    internal static async Task<(double Newtons, CheckWeight Says)> RunAsync(RigArchive archive, IRigLinkOpener link,
        ReferenceForce? reference, Action<Sentence> say, TimeProvider time, CancellationToken cancellation)
    {
        var at = CommandRig.At(link, new RigControllerOptions(), time);
        await using (at.ConfigureAwait(false))
        {
            RigController rig = at.Controller;
            RigSnapshot up = await RigAtHand.ReadyAsync(rig, cancellation).ConfigureAwait(false);
            string device = up.Device!.Id;
            if (reference is not null) archive.Diary.Save(new CheckWeightPlan(device, reference));
            CheckWeightPlan plan = archive.Diary.FindCheckWeight(device)
                ?? throw new CannotBeDoneException(TerminalText.CheckWeightNone(device));
            CalibrationRecord calibration = DeviceCalibration.InForce(archive, device, time)
                ?? throw new CannotBeDoneException(TerminalText.RigNotCalibrated(device));
            say(TerminalText.CheckWeightHangs(plan.Reference.Description, plan.Reference.Newtons));
            double newtons = await new CheckWeightReader(rig).ReadAsync(calibration, plan.Reference.Newtons, say, cancellation)
                .ConfigureAwait(false);
            archive.Diary.Add(device, new CheckWeightReading(time.GetUtcNow(), newtons, calibration.Id));
            await at.PutInForceAsync(calibration).ConfigureAwait(false);
            return (newtons, CheckWeightJudge.Of(archive.Diary, device, calibration)!);
        }
    }
}
