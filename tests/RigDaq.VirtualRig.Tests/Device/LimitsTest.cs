using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual.Tests.Device;

/// <summary>PROTOCOL.md, section 8: no motion without limits, and how each is held.</summary>
public class LimitsTest
{
    [Fact]
    public void Limits_are_confirmed_by_their_id_and_the_checksum_of_what_arrived()
    {
        var host = new SteppedHost();
        host.AskHello();
        AnswerMessage answer = host.SetLimits();
        var payload = new byte[FrameLimits.PayloadBytesMax];
        int length = host.LimitsSent.Write(payload);
        Assert.Equal(host.LimitsSent.LimitsId, (ushort)answer.Detail);
        Assert.Equal(Crc16.Compute(payload.AsSpan(0, length)), (ushort)(answer.Detail >> 16));
        host.Run(0.1);
        Assert.Equal(host.LimitsSent.LimitsId, host.State.LimitsId);
    }

    [Fact]
    public void Nothing_moves_without_limits_or_under_other_limits_or_for_another_start()
    {
        var host = new SteppedHost();
        host.AskHello();
        host.Run(0.2);
        Assert.Equal(AnswerResult.WrongLimits, host.Move(1).Result);
        host.SetLimits();
        Assert.Equal(AnswerResult.WrongLimits, host.Move(1, change: m => m with { LimitsId = 9 }).Result);
        Assert.Equal(AnswerResult.WrongBoot, host.Move(1, change: m => m with { BootNumber = m.BootNumber + 1 }).Result);
        Assert.False(host.Rig.IsMotorMoving);
    }

    [Fact]
    public void Limits_beyond_the_hard_ones_are_refused_whole_and_the_former_stay()
    {
        SteppedHost host = new SteppedHost().Prepare();
        ushort former = host.LimitsSent.LimitsId;
        Assert.Equal(AnswerResult.OutsideLimits, host.SetLimits(l => l with { ForceCountsMax = l.ForceCountsMax + 1 }).Result);
        Assert.Equal(AnswerResult.OutsideLimits, host.SetLimits(l => l with { ForceCountsMin = l.ForceCountsMin - 1 }).Result);
        Assert.Equal(AnswerResult.OutsideLimits, host.SetLimits(l => l with { TravelStepsMax = l.TravelStepsMax + 1 }).Result);
        Assert.Equal(
            AnswerResult.OutsideLimits,
            host.SetLimits(l => l with { SpeedStepsPerSecondMax = l.SpeedStepsPerSecondMax + 1 }).Result);
        Assert.Equal(AnswerResult.BadValue, host.SetLimits(l => l with { LimitsId = 0 }).Result);
        Assert.Equal(AnswerResult.BadValue, host.SetLimits(l => l with { TravelStepsMin = l.TravelStepsMax }).Result);
        Assert.Equal(AnswerResult.BadValue, host.SetLimits(l => l with { MotionMillisecondsMax = 0 }).Result);
        host.Run(0.1);
        Assert.Equal(former, host.State.LimitsId);
    }

    [Fact]
    public void Speed_acceleration_and_target_beyond_the_limits_are_refused()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Home();
        host.RunUntil(() => host.State.Motion == MotionState.Still, 30);
        host.SetLimits(l => l with { SpeedStepsPerSecondMax = 1600, TravelStepsMax = 16_000 });
        Assert.Equal(AnswerResult.OutsideLimits, host.Move(1.01).Result);
        Assert.Equal(AnswerResult.OutsideLimits, host.Move(-1.01).Result);
        Assert.Equal(AnswerResult.OutsideLimits, host.Move(1, 10.01).Result);
        Assert.Equal(
            AnswerResult.OutsideLimits, host.Move(1, change: m => m with { AccelerationStepsPerSecondSquared = uint.MaxValue }).Result);
        Assert.Equal(AnswerResult.BadValue, host.Move(0).Result);
        Assert.Equal(AnswerResult.Done, host.Move(1, 10).Result);
    }

    [Fact]
    public void The_travel_limit_stops_at_its_very_step_and_only_the_way_back_is_open()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.SetLimits(l => l with { TravelStepsMax = 3_200 });
        Assert.Equal(AnswerResult.Done, host.Move(5).Result);
        Assert.True(host.RunUntil(() => host.State.Motion == MotionState.Still, 5));
        Assert.Equal(DeviceFaults.TravelLimit, host.State.Faults);
        Assert.Equal(3_200, host.Rig.PositionSteps);
        Assert.True(host.State.Flags.HasFlag(StateBits.MotorEnabled));

        Assert.Equal(AnswerResult.Faulted, host.Move(-1).Result);
        Assert.Equal(AnswerResult.Done, host.Clear(DeviceFaults.TravelLimit).Result);
        Assert.Equal(AnswerResult.OutsideLimits, host.Move(1).Result);
        Assert.Equal(AnswerResult.Done, host.Move(-1).Result);
        host.Run(0.5);
        Assert.Equal(DeviceFaults.None, host.State.Faults);
        Assert.True(host.Rig.PositionSteps < 3_200);
    }

    [Fact]
    public void The_force_limit_stops_within_two_samples_and_lets_go_only_against_its_direction()
    {
        var options = new VirtualRigOptions { HasGuard = false, NoiseCounts = 0, HumCounts = 0 };
        SteppedHost host = new SteppedHost(options).Prepare();
        host.Rig.LoadSpecimen(new VirtualSpecimen { Label = "B", StrengthNewtons = 900 });
        int limit = (int)(options.ZeroCounts + (300 / options.NewtonsPerCount));
        host.SetLimits(l => l with { ForceCountsMax = limit });
        Assert.Equal(AnswerResult.Done, host.Move(0.5).Result);
        Assert.True(host.RunUntil(() => host.State.Motion == MotionState.Still, 10));
        Assert.Equal(DeviceFaults.ForceLimit, host.State.Faults);
        // 759.5 N/mm at 0.5 mm/s and 320 samples/s are 1.2 N a sample: two of them, and the conversion's own delay.
        Assert.InRange(host.Rig.TrueForceNewtons, 300.5, 304.5);

        host.Clear(DeviceFaults.ForceLimit);
        Assert.Equal(AnswerResult.OutsideLimits, host.Move(0.5).Result);
        Assert.Equal(AnswerResult.OutsideLimits, host.Feed().Result);
        Assert.Equal(AnswerResult.OutsideLimits, host.Home().Result);
        Assert.Equal(AnswerResult.Done, host.Move(-0.5).Result);
        host.Run(0.5);
        host.Stop();
        host.Run(0.2);
        Assert.Equal(DeviceFaults.None, host.State.Faults);
        Assert.True(host.Rig.TrueForceNewtons < 250);
    }

    /// <summary>A bit-banged converter's wild reading, up or down, must not end a pull as an overload (PROTOCOL.md, 8).</summary>
    [Fact]
    public void One_wild_conversion_stops_no_pull_two_in_a_row_do()
    {
        SteppedHost host = new SteppedHost(new VirtualRigOptions { HasGuard = false }).Prepare();
        int zero = (int)host.Options.ZeroCounts;
        host.SetLimits(l => l with { ForceCountsMin = zero - 100_000, ForceCountsMax = zero + 100_000 });
        Assert.Equal(AnswerResult.Done, host.Move(0.5).Result);
        host.Rig.Inject(new VirtualFault.Spikes(6, 400_000, 5));
        host.Run(0.5);
        Assert.Equal(6, host.Samples.Count(s => Math.Abs(s.Counts - zero) > 300_000));
        Assert.Equal(DeviceFaults.None, host.State.Faults);
        Assert.Equal(MotionState.Moving, host.State.Motion);

        host.Rig.Inject(new VirtualFault.Spikes(2, 400_000, 1));
        host.Run(0.1);
        Assert.Equal(DeviceFaults.ForceLimit, host.State.Faults);
        Assert.Equal(MotionState.Still, host.State.Motion);
    }

    [Fact]
    public void A_cell_wired_the_wrong_way_round_is_stopped_by_the_lower_limit()
    {
        var options = new VirtualRigOptions { HasGuard = false, NoiseCounts = 0, HumCounts = 0, IsCellWiredBackwards = true };
        SteppedHost host = new SteppedHost(options).Prepare();
        host.Rig.LoadSpecimen(new VirtualSpecimen { Label = "B", StrengthNewtons = 900 });
        host.SetLimits(l => l with { ForceCountsMin = (int)(options.ZeroCounts - (50 / options.NewtonsPerCount)) });
        host.Move(0.5);
        Assert.True(host.RunUntil(() => host.State.Motion == MotionState.Still, 10));
        Assert.Equal(DeviceFaults.ForceLimit, host.State.Faults);
        Assert.InRange(host.Rig.TrueForceNewtons, 49.5, 53);

        // The way back is against the direction in which the limit was reached, whatever the sign says.
        host.Clear(DeviceFaults.ForceLimit);
        Assert.Equal(AnswerResult.OutsideLimits, host.Move(0.5).Result);
        Assert.Equal(AnswerResult.Done, host.Move(-0.5).Result);
        host.Run(0.2);
        Assert.Equal(DeviceFaults.None, host.State.Faults);
    }

    [Fact]
    public void A_motion_that_lasts_too_long_is_stopped_in_wall_time_whatever_the_time_scale()
    {
        SteppedHost host = new SteppedHost(new VirtualRigOptions { TimeScale = 20 }).Prepare();
        host.SetLimits(l => l with { MotionMillisecondsMax = 500 });
        host.Move(0.1);
        host.Run(0.4);
        Assert.Equal(MotionState.Moving, host.State.Motion);
        host.Run(0.2);
        Assert.Equal(DeviceFaults.TimeLimit, host.State.Faults);
        Assert.False(host.Rig.IsMotorMoving);
    }
}
