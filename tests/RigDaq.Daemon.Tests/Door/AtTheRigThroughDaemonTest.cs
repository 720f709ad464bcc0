using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.App.Configuration;
using RigDaq.App.Rigs;
using RigDaq.Archive;
using RigDaq.Core.Calibration;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Hosting;
using RigDaq.Daemon.Tests.Calibration;
using RigDaq.Daemon.Tests.Trace;
using RigDaq.Rig.Control;
using RigDaq.Text;

namespace RigDaq.Daemon.Tests.Door;

/// <summary>
/// What a person does at the rig by the terminal, while a daemon has folder and device: the same words and exit statuses, over the daemon's
/// own rig, which obeys what was found at once. The line, the control loop and the rig are the real ones: these wait for wall time.
/// </summary>
[Collection(nameof(PrintedOutput))]
public sealed class AtTheRigThroughDaemonTest
{
    private static readonly TimeSpan Bound = TimeSpan.FromSeconds(90);

    [Fact]
    public async Task A_calibration_and_a_check_weight_are_done_by_the_daemons_own_rig()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() || OperatingSystem.IsMacOS(), "Needs a pseudo-terminal.");
        await using var bench = new VirtualBench();
        CalibrationRecord record;
        await using (RigHost host = await StartAsync(bench))
        {
            string weights = bench.WriteFile("two.csv", "name,mass_kg,class\n20 kg no. 1,20,M1\n20 kg no. 2,20,M1\n");
            int status = await bench.RunAsync(Bound, "calibrate", "--weights", weights, "--steps", "2", "--quick", "--warm-up-s", "10",
                "--full-scale-N", "2000", "--non-linearity-percent", "0.1");
            Assert.True(status == 0, string.Join("\n", bench.Said));
            record = Assert.Single(host.Archive.Calibrations.OfDevice(host.Rig.Snapshot.Device!.Id));
            Assert.Equal(record.Id, host.Rig.Snapshot.Calibration?.Id);
            // The virtual cell's own slope.
            Assert.Equal(bench.Rig.Options.NewtonsPerCount, record.Curve.Coefficients[0], bench.Rig.Options.NewtonsPerCount * 3e-3);
            Assert.NotNull(record.By);

            string one = bench.WriteFile("one.csv", "name,mass_kg,class\n20 kg no. 1,20,M1\n");
            bench.Person = line =>
            {
                if (!line.StartsWith("Hang the check weight", StringComparison.Ordinal)) return false;
                bench.Rig.HangMass(20, VirtualBench.Gravity.MetresPerSecondSquared, airDensity: VirtualBench.Air.KilogramsPerCubicMetre);
                return true;
            };
            status = await bench.RunAsync(Bound, "check-weight", "--weights", one);
            Assert.True(status == 0, string.Join("\n", bench.Said));
            Assert.Single(host.Archive.Diary.CheckWeightReadings(record.DeviceId));
        }

        using var archive = new RigArchive(bench.Folder, TimeProvider.System, NullLogger.Instance);
        Assert.Equal(record.Id, Assert.Single(archive.Calibrations.OfDevice(record.DeviceId)).Id);
    }

    private static async Task<RigHost> StartAsync(VirtualBench bench)
    {
        var options = new DaemonOptions { Data = bench.Folder };
        options.Http.Port = 0;
        options.Mqtt.Broker = "off";
        RigHost host = await RigHost.StartAsync(new RigHostPlan
        {
            Options = options,
            Link = bench.Link,
            ReplaceTakenPorts = true,
            Commands = CommandTree.RunAsync,
        }, TestContext.Current.CancellationToken);
        await host.Rig.WhenAsync(s => s.Link == LinkStage.Up && s.Counts is not null, Bound, Sentence.Verbatim("the device"),
            TestContext.Current.CancellationToken);
        return host;
    }
}
