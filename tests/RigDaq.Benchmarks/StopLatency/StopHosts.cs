using RigDaq.App.Configuration;
using RigDaq.App.Rigs;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Daemon.Hosting;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.Benchmarks.StopLatency;

/// <summary>The daemon as <c>serve</c> runs it, one for each terminal, pulling until the process is ended: the measured side.</summary>
internal static class StopHosts
{
    /// <summary>The argument that makes a process of this program it.</summary>
    public const string Role = "stop-hosts";

    private const int SpecimensMax = 5_000;
    private static readonly TimeSpan WaitMax = TimeSpan.FromSeconds(30);

    public static async Task<int> RunAsync(string[] terminals)
    {
        Rig.Scheduling.TryRaiseProcess();
        string folder = Directory.CreateTempSubdirectory("rigdaq-stop-").FullName;
        var hosts = new List<RigHost>();
        try
        {
            foreach (string terminal in terminals)
            {
                var options = new DaemonOptions { Data = Path.Combine(folder, Path.GetFileName(terminal)) };
                options.Http.Port = 0;
                options.Mqtt.Broker = "off";
                RigHost host = await RigHost.StartAsync(new RigHostPlan
                {
                    Options = options,
                    Link = new SerialRigLinkOpener(new SerialLinkSettings { Path = terminal }),
                    ReplaceTakenPorts = true,
                }, CancellationToken.None);
                hosts.Add(host);
                await PullAsync(host);
            }

            // Until whoever started this closes the input.
            await Console.In.ReadToEndAsync();
            return 0;
        }
        finally
        {
            foreach (RigHost host in hosts) await host.DisposeAsync();
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task PullAsync(RigHost host)
    {
        RigSnapshot up = await host.Rig.WhenAsync(s => s.Link == LinkStage.Up && s.Counts is not null, WaitMax,
            Sentence.Verbatim("the device"),
            CancellationToken.None);
        var calibration = new CalibrationRecord
        {
            Id = Guid.CreateVersion7().ToString(),
            DeviceId = up.Device!.Id,
            AcceptedAt = DateTimeOffset.UnixEpoch,
            ValidUntil = DateTimeOffset.MaxValue,
            Curve = new ForceCurve([PullSignal.NewtonsPerCount]),
            GreatestReferenceNewtons = 1000,
        };
        host.Archive.Calibrations.Save(calibration);
        (await host.Rig.SetCalibration(calibration, PullSignal.NoiseCounts)).Require();
        (await host.Rig.StartSequenceAsync(new SequencePlan
        {
            SequenceId = Guid.CreateVersion7().ToString(),
            StudyId = "stops",
            SpecimenIds = [.. Enumerable.Range(1, SpecimensMax).Select(i => $"S{i}")],
            Settings = new PullSettings { ZeroSeconds = 0.3, ReturnSpeedMillimetresPerSecond = 10 },
        })).Require();
    }
}
