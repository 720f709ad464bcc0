using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.EndToEnd.Tests.Support;
using RigDaq.Rig.Links;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.EndToEnd.Tests.Replay;

/// <summary>
/// 10,000 samples a second and channels as fast over a real pseudo-terminal through the whole daemon: nothing is lost for seconds, the
/// break is found, the stop goes out. In wall time: line, control loop, disk and rig are the real ones. A virtual rig lets its time slip on
/// a machine that is too busy for it, so that a lost sample is one that this program, or the pseudo-terminal, lost.
/// </summary>
public sealed class TenThousandTest
{
    private static readonly TimeSpan StopMax = TimeSpan.FromMilliseconds(250);

    [Fact]
    public async Task Nothing_is_lost_for_seconds_and_the_break_is_found()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() || OperatingSystem.IsMacOS(), "Needs a pseudo-terminal.");
        using var folder = new TemporaryFolder();
        var options = new VirtualRigOptions
        {
            Seed = 12,
            StartMillimetres = 3,
            SampleRateHertz = 10_000,
            Channels = [VirtualChannel.Extensometer, VirtualChannel.Thermometer],
        };
        await using var rig = new VirtualRig(options, TimeProvider.System);
        rig.QueueSpecimens([new VirtualSpecimen { Label = "S1", StrengthNewtons = 400, StiffnessNewtonsPerMillimetre = 300 }]);
        var link = new SerialRigLinkOpener(new SerialLinkSettings { Path = rig.OpenPty(folder["rig"]) });
        var settings = new PullSettings { SpeedMillimetresPerSecond = 0.5, ZeroSeconds = 0.5, ReturnSpeedMillimetresPerSecond = 10 };
        (Run run, PullRecord pull, TimeSpan? stop) = await WholeDaemon.PullOnceAsync(link, options.NewtonsPerCount, options.NoiseCounts,
            settings, home: true, rateHertz: 10_000);

        Assert.Equal(PullEnding.Broken, run.Ending);
        Assert.Equal(400, run.Reading!.PeakForceNewtons!.Value, 2.0);
        Assert.Equal(10_000, run.Reading.SampleRateHertz!.Value, 5.0);
        Assert.Equal(0, run.Reading.SamplesLost);
        IReadOnlyList<RawSample> samples = pull.Trace.Samples;
        Assert.True(samples.Count > 20_000, $"{samples.Count} samples");
        for (int i = 1; i < samples.Count; i++) Assert.Equal(samples[i - 1].Number + 1, samples[i].Number);
        IReadOnlyList<ChannelSample> extension = pull.Trace.Channels[0].Samples;
        Assert.InRange(extension.Count, samples.Count - 1_000, samples.Count + 1_000);
        for (int i = 1; i < extension.Count; i++) Assert.Equal(extension[i - 1].Number + 1, extension[i].Number);
        // Half of the specimen's own 300 N/mm lies between the knives (Hooke).
        Assert.Equal(600, run.Reading.Gauge!.InitialSlopeNewtonsPerMillimetre!.Value, 6.0);
        TestContext.Current.TestOutputHelper!.WriteLine($"{samples.Count} samples, {extension.Count} of the extensometer, stop after {stop?.TotalMilliseconds:F1} ms");
        Assert.InRange(stop!.Value, TimeSpan.Zero, StopMax);
    }
}
