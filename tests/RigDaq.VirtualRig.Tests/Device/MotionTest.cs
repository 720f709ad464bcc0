using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual.Tests.Device;

/// <summary>PROTOCOL.md, section 9: moves, home, feed.</summary>
public class MotionTest
{
    [Fact]
    public void A_move_to_a_position_takes_the_time_of_its_trapezoid_and_ends_on_its_step()
    {
        SteppedHost host = new SteppedHost().Prepare();
        Home(host);
        Assert.Equal(AnswerResult.Done, host.Move(5, 20).Result);
        double began = host.Rig.RigTime.TotalSeconds;
        Assert.True(host.RunUntil(() => !host.Rig.IsMotorMoving, 20));
        // v/a + s/v = 0.25 + 4 s for 5 mm/s, 20 mm/s² and 20 mm (kinematics); the host looks every 20 ms.
        Assert.InRange(host.Rig.RigTime.TotalSeconds - began, 4.20, 4.30);
        Assert.Equal(32_000, host.Rig.PositionSteps);
        host.Run(0.1);
        EventMessage ended = host.Events.Last(e => e.Code == DeviceEventCode.MotionEnded);
        Assert.Equal(32_000, ended.Detail);
    }

    [Fact]
    public void A_position_needs_home_and_home_sets_it_to_zero()
    {
        SteppedHost host = new SteppedHost().Prepare();
        Assert.Equal(AnswerResult.NotHomed, host.Move(1, 5).Result);
        Home(host);
        Assert.Equal(0, host.Rig.PositionSteps);
        Assert.True(host.State.Flags.HasFlag(StateBits.Homed));
        // Started 30 mm above the switch at 0 steps; home is 1 mm above it: 29 mm further down than it was thought to be.
        EventMessage homed = Assert.Single(host.Events, e => e.Code == DeviceEventCode.Homed);
        Assert.Equal(-29 * 1600, homed.Detail);
    }

    [Fact]
    public void No_block_that_says_homed_holds_a_position_from_before()
    {
        for (int rate = 80; rate <= 2000; rate += 160)
        {
            SteppedHost host = new SteppedHost(new VirtualRigOptions { SampleRateHertz = rate }).Prepare();
            host.Samples.Clear();
            Home(host);
            host.Run(0.1);
            Assert.Equal(0, host.Samples[^1].Steps);
            SamplesMessage first = host.Blocks.First(b => b.State.Flags.HasFlag(StateBits.Homed));
            Assert.Equal(0, first.FirstSteps);
        }
    }

    [Fact]
    public void A_move_replaces_a_move_without_a_stop_between_and_its_end_is_told_once()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Move(1);
        host.Run(0.3);
        Assert.Equal(AnswerResult.Done, host.Move(2).Result);
        host.Run(0.3);
        Assert.Equal(AnswerResult.Done, host.Move(0.5).Result);
        host.Run(0.3);
        Assert.DoesNotContain(host.Events, e => e.Code == DeviceEventCode.MotionEnded);
        Assert.Equal(AnswerResult.Done, host.Stop().Result);
        host.Run(0.5);
        Assert.Single(host.Events, e => e.Code == DeviceEventCode.MotionEnded);
        Assert.Equal(MotionState.Still, host.State.Motion);
    }

    [Fact]
    public void What_homes_feeds_or_stops_is_busy()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Home();
        Assert.Equal(AnswerResult.Busy, host.Move(1).Result);
        Assert.Equal(AnswerResult.Busy, host.Feed().Result);
        Assert.Equal(AnswerResult.Busy, host.SetLimits().Result);
        Assert.Equal(AnswerResult.Busy, host.Clear(DeviceFaults.TimeLimit).Result);
        host.Stop(atOnce: true);
        Assert.False(host.Rig.IsMotorMoving);
        host.Run(0.1);
        Assert.False(host.State.Flags.HasFlag(StateBits.Homed));
    }

    [Fact]
    public void A_ramped_stop_takes_the_time_of_its_ramp_and_never_more_than_half_a_second()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Move(6);
        host.Run(1);
        host.Stop();
        Assert.Equal(MotionState.Stopping, host.Rig.Motion);
        // 6 mm/s at 20 mm/s² are 0.3 s.
        host.Run(0.25);
        Assert.True(host.Rig.IsMotorMoving);
        host.Run(0.1);
        Assert.False(host.Rig.IsMotorMoving);

        // 10 mm/s are 0.5 s: with a faster ramp (PROTOCOL.md, 9).
        host.Move(10);
        host.Run(1);
        host.Stop();
        host.Run(0.35);
        Assert.True(host.Rig.IsMotorMoving);
        host.Run(0.1);
        Assert.False(host.Rig.IsMotorMoving);
    }

    [Fact]
    public void A_device_that_only_measures_refuses_all_motion()
    {
        var host = new SteppedHost(new VirtualRigOptions { HasMotion = false });
        host.AskHello();
        host.Run(0.2);
        Assert.Equal(0u, host.Hello.StepsPerMetre);
        Assert.Equal(AnswerResult.NotCapable, host.SetLimits(l => l with { SpeedStepsPerSecondMax = 1 }).Result);
        Assert.Equal(AnswerResult.NotCapable, host.Move(1).Result);
        Assert.Equal(AnswerResult.NotCapable, host.Home().Result);
        Assert.Equal(AnswerResult.NotCapable, host.Feed().Result);
    }

    [Fact]
    public void The_feeder_grips_with_a_small_force_that_was_not_there_before()
    {
        var options = new VirtualRigOptions { NoiseCounts = 0, HumCounts = 0, ClampNewtons = 2 };
        SteppedHost host = new SteppedHost(options).Prepare();
        host.Rig.QueueSpecimens([new VirtualSpecimen { Label = "C1", StrengthNewtons = 500 }]);
        Assert.Equal(0, host.Rig.TrueForceNewtons);
        Assert.Equal(AnswerResult.Done, host.Feed().Result);
        host.Run(2);
        Assert.Equal(0, host.Rig.TrueForceNewtons);
        Assert.True(host.RunUntil(() => host.State.Motion == MotionState.Still, 5));
        Assert.InRange(host.Rig.TrueForceNewtons, 1, 3);
        Assert.Equal(0, host.Rig.SpecimensWaiting);
        Assert.True(host.State.Inputs.HasFlag(InputStates.SpecimenLoaded | InputStates.FeederEmpty));
    }

    [Fact]
    public void An_empty_feeder_says_so_and_leaves_the_grips_open()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Feed();
        Assert.True(host.RunUntil(() => host.State.Motion == MotionState.Still, 5));
        Assert.Contains(host.Events, e => e.Code == DeviceEventCode.FeederEmpty);
        Assert.DoesNotContain(host.Events, e => e.Code == DeviceEventCode.SpecimenLoaded);
        Assert.Null(host.Rig.SpecimenInGrips);
    }

    [Fact]
    public void A_stopped_feed_keeps_the_specimen_in_the_magazine()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Rig.QueueSpecimens([new VirtualSpecimen { Label = "C1", StrengthNewtons = 500 }]);
        host.Feed();
        host.Run(1);
        host.Stop();
        host.Run(5);
        Assert.Equal(1, host.Rig.SpecimensWaiting);
        Assert.Null(host.Rig.SpecimenInGrips);
    }

    private static void Home(SteppedHost host)
    {
        Assert.Equal(AnswerResult.Done, host.Home().Result);
        Assert.True(host.RunUntil(() => host.State.Motion == MotionState.Still, 60));
    }
}
