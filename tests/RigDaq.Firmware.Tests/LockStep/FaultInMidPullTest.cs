using System.Text.Json;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Firmware.Tests.LockStep;

/// <summary>
/// The image that goes into the chip against the daemon that is served, in lock step: whatever can go wrong in the middle of a pull. What
/// the motor does is seen at the chip's pins, what is told a person on the page, what is kept in the archive.
/// </summary>
public sealed class FaultInMidPullTest
{
    /// <summary>"No further step is made later than 50 ms after" (PROTOCOL.md 9), and inputs may be filtered for 5 ms (10).</summary>
    private const double StoppedWithinSeconds = 0.06;

    [Theory]
    [InlineData("guard 0", DeviceFaults.GuardOpened, PullEnding.Stopped)]
    [InlineData("estop 1", DeviceFaults.EmergencyStop, PullEnding.Stopped)]
    public async Task An_opened_guard_and_a_pressed_emergency_stop_stop_the_motor_hold_the_sequence_and_keep_the_run(string command,
        DeviceFaults fault, PullEnding ending)
    {
        await using LockStepDaemon daemon = await LockStepDaemon.StartAsync(specimens: 1);
        await daemon.IntoMidPullAsync();
        await FaultIsKeptAsync(daemon, command, fault, ending, StoppedWithinSeconds);
    }

    [Fact]
    public async Task A_dead_converter_in_mid_pull_stops_the_motor_and_the_pull_is_kept_as_interrupted()
    {
        await using LockStepDaemon daemon = await LockStepDaemon.StartAsync(specimens: 1);
        await daemon.IntoMidPullAsync();
        // In motion two and a half periods of 12.5 ms and 5 ms until the device calls it dead (PROTOCOL.md 10).
        await FaultIsKeptAsync(daemon, "converter 0", DeviceFaults.Converter, PullEnding.Interrupted, 0.0365 + 0.005);
    }

    [Fact]
    public async Task A_converter_that_repeats_itself_in_mid_pull_stops_the_motor()
    {
        await using LockStepDaemon daemon = await LockStepDaemon.StartAsync(specimens: 1);
        await daemon.IntoMidPullAsync();
        // Eight equal to the one before, at 80 a second (PROTOCOL.md 10). The daemon alone, with other devices, takes a hundred.
        await FaultIsKeptAsync(daemon, "stuck 1", DeviceFaults.Converter, PullEnding.Interrupted, (9 / 80.0) + StoppedWithinSeconds);
    }

    [Fact]
    public async Task After_an_opened_guard_a_person_sees_to_it_and_the_same_specimen_is_pulled_again()
    {
        await using LockStepDaemon daemon = await LockStepDaemon.StartAsync(specimens: 1);
        await daemon.IntoMidPullAsync();
        await daemon.Board.Ask("guard 0");
        await daemon.UntilAsync(s => s.Sequence?.Stage == SequenceStage.Held, "held");
        (bool resumed, string words) = await daemon.AskAsync("resume");
        Assert.False(resumed, "it went on with an open guard");
        Assert.Contains("guard", words, StringComparison.OrdinalIgnoreCase);
        await daemon.Board.Ask("specimen 0 0 0"); // taken out
        await daemon.RunAsync(TimeSpan.FromSeconds(0.5));
        await daemon.Board.Ask("guard 1");
        await daemon.RunAsync(TimeSpan.FromSeconds(0.5));
        await daemon.DoAsync("clear-faults");
        await daemon.UntilAsync(s => s.Faults == DeviceFaults.None, "cleared");
        // The guard took the power in motion: the rotor may have snapped to another pole, and the position is not known any more.
        (resumed, words) = await daemon.AskAsync("resume");
        Assert.False(resumed, "it went on without knowing where it is");
        Assert.Contains("home first", words, StringComparison.OrdinalIgnoreCase);
        await daemon.DoAsync("home");
        await daemon.UntilAsync(s => s.Bits.HasFlag(StateBits.Homed) && s.Motion == MotionState.Still, "homed");
        await daemon.DoAsync("resume");
        await daemon.ChangeSpecimenAsync(90);
        await daemon.UntilAsync(s => s.Sequence?.Stage == SequenceStage.Finished, "pulled");
        Assert.Equal([PullEnding.Stopped, PullEnding.Broken], daemon.Runs.OrderBy(run => run.Head.StartedAt).Select(run => run.Ending));
    }

    [Fact]
    public async Task The_pages_stop_in_mid_pull_stops_the_motor()
    {
        await using LockStepDaemon daemon = await LockStepDaemon.StartAsync(specimens: 1);
        await daemon.IntoMidPullAsync();
        double asked = await SecondsAsync(daemon, "seconds");
        await daemon.DoAsync("stop");
        await daemon.UntilAsync(s => s.Sequence?.Stage == SequenceStage.Held && daemon.Runs.Count == 1, "held and recorded");
        await StaysAsync(daemon, asked, StoppedWithinSeconds);
        Assert.Equal(PullEnding.Stopped, daemon.Runs[0].Ending);
        Assert.Equal(DeviceFaults.None, daemon.Now.Faults);
    }

    [Fact]
    public async Task A_host_that_is_not_heard_any_more_is_no_host_the_motor_is_off_in_half_a_second()
    {
        await using LockStepDaemon daemon = await LockStepDaemon.StartAsync(specimens: 1);
        await daemon.IntoMidPullAsync();
        double muted = await SecondsAsync(daemon, "seconds");
        daemon.Cable.HostIsMute = true;
        await daemon.RunAsync(TimeSpan.FromSeconds(0.7));
        JsonElement pins = await daemon.Board.Look();
        // 500 to 520 ms after the last keep-alive, which was up to 100 ms before (PROTOCOL.md 7).
        Assert.InRange(pins.GetProperty("powerOffSeconds").GetDouble() - muted, 0.39, 0.52);
        Assert.Equal(0, pins.GetProperty("powered").GetInt32());
        daemon.Cable.HostIsMute = false;
        await daemon.UntilAsync(s => s.Sequence?.Stage == SequenceStage.Held && daemon.Runs.Count == 1, "held and recorded");
        Assert.NotEqual(PullEnding.Broken, daemon.Runs[0].Ending);
    }

    [Fact]
    public async Task A_cable_pulled_out_in_mid_pull_leaves_the_board_without_its_host_and_the_daemon_with_a_kept_run()
    {
        await using LockStepDaemon daemon = await LockStepDaemon.StartAsync(specimens: 1);
        await daemon.IntoMidPullAsync();
        double pulledOut = await SecondsAsync(daemon, "seconds");
        daemon.Cable.Unplug();
        await daemon.UntilAsync(s => s.Link != LinkStage.Up && s.Sequence?.Stage == SequenceStage.Held && daemon.Runs.Count == 1,
            "missed, held and recorded");
        Assert.Equal(PullEnding.Interrupted, daemon.Runs[0].Ending);
        await daemon.RunAsync(TimeSpan.FromSeconds(0.7));
        JsonElement pins = await daemon.Board.Look();
        Assert.InRange(pins.GetProperty("powerOffSeconds").GetDouble() - pulledOut, 0.39, 0.52);

        daemon.Cable.PlugIn();
        await daemon.UntilAsync(s => s.Link == LinkStage.Up && s.Faults.HasFlag(DeviceFaults.KeepAliveLost), "found again");
        JsonElement page = await daemon.UntilPageAsync(s => s.GetProperty("link").GetString() == "up"
            && s.GetProperty("linksLost").GetInt32() == 1, "the link");
        Assert.Equal("held", page.GetProperty("sequence").GetProperty("stage").GetString());
        await StaysAsync(daemon, pulledOut, 0.52);
    }

    [Fact]
    public async Task A_hung_program_restarts_standing_and_the_daemon_moves_nothing_by_itself()
    {
        await using LockStepDaemon daemon = await LockStepDaemon.StartAsync(specimens: 1);
        await daemon.IntoMidPullAsync();
        double hung = await SecondsAsync(daemon, "seconds");
        await daemon.Board.Ask("hang");
        await daemon.UntilAsync(s => s.DeviceRestarts == 1 && s.Sequence?.Stage == SequenceStage.Held && daemon.Runs.Count == 1,
            "held after the restart");
        Assert.Equal(1, await SecondsAsync(daemon, "resets"));
        Assert.NotEqual(PullEnding.Broken, daemon.Runs[0].Ending);
        await StaysAsync(daemon, hung, 0.03); // the tick stops it 20 ms after the loop
        Assert.True(daemon.Now.Faults.HasFlag(DeviceFaults.Watchdog));
        JsonElement page = await daemon.UntilPageAsync(s => s.GetProperty("startedBecause").GetString()!.Length > 0, "why it started");
        Assert.Contains("its watchdog", page.GetProperty("startedBecause").GetString(), StringComparison.Ordinal);
    }

    private static async Task FaultIsKeptAsync(LockStepDaemon daemon, string command, DeviceFaults fault, PullEnding ending,
        double stoppedWithinSeconds)
    {
        double happened = await SecondsAsync(daemon, "seconds");
        await daemon.Board.Ask(command);
        await daemon.UntilAsync(s => s.Sequence?.Stage == SequenceStage.Held && daemon.Runs.Count == 1, "held and recorded");
        Assert.True(daemon.Now.Faults.HasFlag(fault), $"{daemon.Now.Faults}");
        Run run = daemon.Runs[0];
        Assert.True(run.Ending == ending, $"{run.Ending}: {run.Reason}");
        PullRecord kept = daemon.Host.Archive.Runs.FindPull(run.Head.RunId)!;
        Assert.True(kept.Trace.Samples.Count > 50, $"{kept.Trace.Samples.Count} samples");
        JsonElement page = await daemon.UntilPageAsync(s => s.GetProperty("sequence").GetProperty("stage").GetString() == "held",
            "a held sequence");
        Assert.NotEmpty(page.GetProperty("sequence").GetProperty("reason").GetString()!);
        Assert.NotEqual(0, page.GetProperty("faults").GetArrayLength());
        await StaysAsync(daemon, happened, stoppedWithinSeconds);
    }

    /// <summary>The last step was made in time, and none follows.</summary>
    private static async Task StaysAsync(LockStepDaemon daemon, double sinceSeconds, double withinSeconds)
    {
        Assert.InRange(await SecondsAsync(daemon, "lastStepSeconds") - sinceSeconds, -0.01, withinSeconds);
        double steps = await SecondsAsync(daemon, "steps");
        await daemon.RunAsync(TimeSpan.FromSeconds(2));
        Assert.Equal(steps, await SecondsAsync(daemon, "steps"));
    }

    private static async Task<double> SecondsAsync(LockStepDaemon daemon, string name)
        => (await daemon.Board.Look()).GetProperty(name).GetDouble();
}
