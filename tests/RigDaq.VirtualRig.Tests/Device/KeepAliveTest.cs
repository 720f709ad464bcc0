using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual.Tests.Device;

/// <summary>PROTOCOL.md, section 7: a dead control loop stops the rig, in wall time.</summary>
public class KeepAliveTest
{
    [Theory]
    [InlineData(1)]
    [InlineData(20)]
    public void Motion_stops_between_500_and_520_ms_after_the_last_one(double timeScale)
    {
        SteppedHost host = new SteppedHost(new VirtualRigOptions { TimeScale = timeScale }).Prepare();
        Assert.Equal(AnswerResult.Done, host.Move(0.1).Result);
        host.SendsKeepAlive = false;
        host.KeepAlive(4_000);
        host.Run(0.02);
        host.Run(0.47);
        Assert.True(host.Rig.IsMotorMoving);
        host.Run(0.03);
        Assert.False(host.Rig.IsMotorMoving);
        Assert.Equal(DeviceFaults.KeepAliveLost, host.Rig.Faults);
        Assert.False(host.Rig.IsMotorPowered);
    }

    [Fact]
    public void The_fault_stays_though_life_returns_until_it_is_cleared()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Move(0.1);
        host.SendsKeepAlive = false;
        host.Run(0.6);
        Assert.Equal(AnswerResult.Done, host.Clear(DeviceFaults.KeepAliveLost).Result);
        Assert.Equal(DeviceFaults.KeepAliveLost, host.Rig.Faults);

        host.SendsKeepAlive = true;
        host.Run(0.3);
        Assert.Equal(DeviceFaults.KeepAliveLost, host.State.Faults);
        Assert.Equal(AnswerResult.Faulted, host.Move(0.1).Result);
        host.Clear(DeviceFaults.KeepAliveLost);
        Assert.Equal(AnswerResult.Done, host.Move(0.1).Result);
    }

    [Fact]
    public void The_same_counter_again_and_another_starts_number_are_no_life()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.SendsKeepAlive = false;
        host.Run(0.6);
        Assert.Equal(AnswerResult.NoKeepAlive, host.Move(0.1).Result);
        host.KeepAlive(7_000);
        host.Run(0.4);
        host.KeepAlive(7_000);
        host.Run(0.2);
        Assert.Equal(AnswerResult.NoKeepAlive, host.Move(0.1).Result);
    }

    [Fact]
    public void Two_old_ones_sent_in_turn_hold_no_motion_and_a_host_that_begins_anew_is_heard_after_a_silence()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.SendsKeepAlive = false;
        host.KeepAlive(1_000);
        host.KeepAlive(1_001);
        Assert.Equal(AnswerResult.Done, host.Move(0.1).Result);
        for (int i = 0; i < 4; i++)
        {
            host.Run(0.2);
            host.KeepAlive((ushort)(1_000 + (i % 2)));
        }

        Assert.False(host.Rig.IsMotorMoving);
        Assert.Equal(DeviceFaults.KeepAliveLost, host.Rig.Faults);
        host.KeepAlive(1);
        host.Run(0.04);
        host.Clear(DeviceFaults.KeepAliveLost);
        Assert.Equal(AnswerResult.Done, host.Move(0.1).Result);
    }

    [Fact]
    public void Standing_without_life_takes_the_power_off_and_is_no_fault()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Move(1);
        host.Stop();
        host.Run(0.3);
        Assert.True(host.State.Flags.HasFlag(StateBits.MotorEnabled));
        host.SendsKeepAlive = false;
        host.Run(0.7);
        Assert.False(host.State.Flags.HasFlag(StateBits.MotorEnabled));
        Assert.Equal(DeviceFaults.None, host.State.Faults);
    }
}
