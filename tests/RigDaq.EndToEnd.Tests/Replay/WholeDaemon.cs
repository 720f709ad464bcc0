using RigDaq.App.Configuration;
using RigDaq.App.Rigs;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Daemon.Hosting;
using RigDaq.EndToEnd.Tests.Support;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.EndToEnd.Tests.Replay;

/// <summary>Session, control loop, detector, capture, recorder and archive as the daemon joins them, for one pull.</summary>
internal static class WholeDaemon
{
    private const string StudyId = "recorded";

    private static readonly TimeSpan WaitMax = TimeSpan.FromSeconds(30);

    /// <summary>Pulls the one specimen that a device has and gives what the archive then holds.</summary>
    public static async Task<(Run Run, PullRecord Pull, TimeSpan? StopLatency)> PullOnceAsync(
        IRigLinkOpener link, double newtonsPerCount, double noiseCounts, PullSettings settings, bool home = false, double? rateHertz = null)
    {
        CancellationToken cancellation = TestContext.Current.CancellationToken;
        using var folder = new TemporaryFolder();
        var options = new DaemonOptions { Data = folder.Path };
        options.Http.Port = 0;
        options.Mqtt.Broker = "off";
        options.Serial.SampleRateHertz = rateHertz;
        await using RigHost host = await RigHost.StartAsync(new RigHostPlan { Options = options, Link = link, ReplaceTakenPorts = true },
            cancellation);
        RigSnapshot up = await host.Rig.WhenAsync(s => s.Link == LinkStage.Up && s.Counts is not null, WaitMax,
            Sentence.Verbatim("the device"), cancellation);
        var calibration = new CalibrationRecord
        {
            Id = Guid.CreateVersion7().ToString(),
            DeviceId = up.Device!.Id,
            AcceptedAt = DateTimeOffset.UnixEpoch,
            ValidUntil = DateTimeOffset.MaxValue,
            Curve = new ForceCurve([newtonsPerCount]),
            GreatestReferenceNewtons = 1000,
        };
        host.Archive.Calibrations.Save(calibration);
        Require(await host.Rig.SetCalibration(calibration, noiseCounts));
        if (home)
        {
            Require(await host.Rig.HomeAsync());
            await host.Rig.WhenAsync(
                s => s.Bits.HasFlag(Protocol.Messages.StateBits.Homed) && s.Motion == Protocol.Messages.MotionState.Still, WaitMax,
                    Sentence.Verbatim("home"),
                    cancellation);
        }

        Require(await host.Rig.StartSequenceAsync(new SequencePlan
        {
            SequenceId = Guid.CreateVersion7().ToString(),
            StudyId = StudyId,
            SpecimenIds = ["S1"],
            Settings = settings,
        }));
        // A pull in wall time may take all of its own limit.
        TimeSpan pulled = WaitMax + TimeSpan.FromSeconds(settings.TimeLimitSeconds);
        RigSnapshot end = await host.Rig.WhenAsync(s => s.LastRun is not null, pulled, Sentence.Verbatim("the stored run"), cancellation);
        // What is judged is what the archive gives back, not what the rig remembers.
        Run stored = Assert.Single(host.Archive.Runs.OfStudy(StudyId));
        return (stored, host.Archive.Runs.FindPull(stored.Head.RunId)!, end.StopLatency);
    }

    private static void Require(CommandResult result) => Assert.True(result.Done, result.Message);
}
