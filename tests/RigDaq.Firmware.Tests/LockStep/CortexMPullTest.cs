using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Firmware.Tests.Support;
using RigDaq.Protocol.Messages;
using RigDaq.Protocol.Tests.Firmware;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Firmware.Tests.LockStep;

/// <summary>The second port before the whole daemon: the image for a 32-bit chip in Debian's qemu, in lock step.</summary>
public sealed class CortexMPullTest
{
    private const double BreakNewtons = 80, StepsPerMillimetre = 400;

    [Fact]
    public async Task A_specimen_pulled_by_the_image_for_a_32_bit_chip_breaks_at_its_force_and_a_guard_opened_on_the_next_stops_it()
    {
        await using LockStepDaemon daemon = await LockStepDaemon.StartAsync(specimens: 2, boards: async () => await QemuBoard.Start());
        await daemon.HomeAsync();
        await daemon.StartSequenceAsync();
        await daemon.ChangeSpecimenAsync(BreakNewtons);
        await daemon.UntilAsync(s => daemon.Runs.Count == 1 || s.Sequence?.Stage == SequenceStage.Held, "pulled");
        Run broken = Assert.Single(daemon.Runs);
        Assert.True(broken.Ending == PullEnding.Broken, $"{broken.Ending}: {broken.Reason}");
        // The board's spring breaks at the first step beyond its force, looked at every 5 ms, and is read 80 times a second: the greatest
        // sample lies one interval's rise below at most.
        double rise = Bench.StiffnessNewtonsPerMillimetre * Bench.SpeedMillimetresPerSecond * ((1 / 80.0) + 0.005);
        Assert.InRange(broken.Reading!.RawPeakForceNewtons!.Value, BreakNewtons - rise - 0.05, BreakNewtons + 0.05);
        Assert.Equal((0L, 0L, 0L), (daemon.Now.SamplesLost, daemon.Now.FramesBad, daemon.Now.DeviceRestarts));

        await daemon.ChangeSpecimenAsync(200);
        await daemon.UntilAsync(s => s.Sequence?.Stage == SequenceStage.Pulling && s.ForceNewtons > 30, "in mid-pull");
        int before = await PositionAsync(daemon);
        await daemon.Board.Ask("guard 0");
        await daemon.UntilAsync(s => s.Sequence?.Stage == SequenceStage.Held && daemon.Runs.Count == 2, "held and recorded");
        int stood = await PositionAsync(daemon);
        // 5 ms of filter at 1 mm/s, and a slice of the lock step.
        Assert.InRange(stood - before, 0, 0.02 * StepsPerMillimetre * Bench.SpeedMillimetresPerSecond);
        Assert.True(daemon.Now.Faults.HasFlag(DeviceFaults.GuardOpened), $"{daemon.Now.Faults}");
        Assert.False(daemon.Now.Bits.HasFlag(StateBits.MotorEnabled) || daemon.Now.Bits.HasFlag(StateBits.Homed));
        await daemon.RunAsync(TimeSpan.FromSeconds(1));
        Assert.Equal(stood, await PositionAsync(daemon));
        Assert.Equal([PullEnding.Broken, PullEnding.Stopped], daemon.Runs.OrderBy(run => run.Head.StartedAt).Select(run => run.Ending));
        Assert.Equal((0L, 0L, 0L), (daemon.Now.SamplesLost, daemon.Now.FramesBad, daemon.Now.DeviceRestarts));
    }

    private static async Task<int> PositionAsync(LockStepDaemon daemon) => (await daemon.Board.Look()).GetProperty("position").GetInt32();
}
