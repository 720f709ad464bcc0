using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual.Tests.Device;

/// <summary>PROTOCOL.md, section 10: guard, emergency stop, driver, watchdog.</summary>
public class InterlockTest
{
    [Fact]
    public void Opening_the_guard_in_motion_stops_at_once_and_latches()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Move(1);
        host.Run(0.3);
        host.Rig.OpenGuard();
        Assert.False(host.Rig.IsMotorMoving);
        host.Run(0.1);
        Assert.Equal(DeviceFaults.GuardOpened, host.State.Faults);
        Assert.False(host.State.Inputs.HasFlag(InputStates.GuardClosed));
        Assert.False(host.State.Flags.HasFlag(StateBits.MotorEnabled));
        host.Clear(DeviceFaults.GuardOpened);
        host.Run(0.1);
        Assert.Equal(DeviceFaults.GuardOpened, host.State.Faults);
        host.Rig.CloseGuard();
        host.Clear(DeviceFaults.GuardOpened);
        Assert.Equal(AnswerResult.Done, host.Move(1).Result);
        host.RunUntil(() => false, 1);
        Assert.Equal(
            [DeviceEventCode.GuardOpened, DeviceEventCode.FaultRaised, DeviceEventCode.MotionEnded, DeviceEventCode.GuardClosed],
            host.Events.Select(e => e.Code).Where(c => c != DeviceEventCode.Started));
    }

    [Fact]
    public void Opening_the_guard_at_standstill_is_an_event_and_forbids_motion_while_it_lasts()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Rig.OpenGuard();
        host.Run(0.1);
        Assert.Equal(DeviceFaults.None, host.State.Faults);
        Assert.Equal(AnswerResult.GuardOpen, host.Move(1).Result);
        host.Rig.CloseGuard();
        Assert.Equal(AnswerResult.Done, host.Move(1).Result);
    }

    [Fact]
    public void A_rig_without_a_guard_moves_and_says_nothing_of_one()
    {
        SteppedHost host = new SteppedHost(new VirtualRigOptions { HasGuard = false }).Prepare();
        host.Rig.OpenGuard();
        Assert.Equal(AnswerResult.Done, host.Move(1).Result);
        Assert.False(host.State.Inputs.HasFlag(InputStates.GuardClosed));
        Assert.False(host.Hello.Capabilities.HasFlag(Capabilities.Guard));
    }

    [Fact]
    public void The_emergency_stop_latches_at_any_time_and_clears_only_when_released()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Rig.PressEmergencyStop();
        host.Run(0.1);
        Assert.Equal(DeviceFaults.EmergencyStop, host.State.Faults);
        Assert.Equal(AnswerResult.EmergencyStopPressed, host.Move(1).Result);
        host.Clear(DeviceFaults.EmergencyStop);
        Assert.Equal(DeviceFaults.EmergencyStop, host.Rig.Faults);
        host.Rig.ReleaseEmergencyStop();
        Assert.Equal(AnswerResult.Faulted, host.Move(1).Result);
        host.Clear(DeviceFaults.EmergencyStop);
        Assert.Equal(AnswerResult.Done, host.Move(1).Result);
    }

    /// <summary>The stop cuts the motor's supply by itself: in motion that can cost steps (PROTOCOL.md, 9).</summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void The_emergency_stop_costs_home_in_motion_and_not_at_rest(bool moving)
    {
        SteppedHost host = new SteppedHost().Prepare();
        Assert.Equal(AnswerResult.Done, host.Home().Result);
        Assert.True(host.RunUntil(() => host.State.Flags.HasFlag(StateBits.Homed) && host.State.Motion == MotionState.Still, 60));
        if (moving) Assert.Equal(AnswerResult.Done, host.Move(1).Result);
        host.Rig.PressEmergencyStop();
        host.Run(0.1);
        Assert.Equal(!moving, host.State.Flags.HasFlag(StateBits.Homed));
        host.Rig.ReleaseEmergencyStop();
        host.Clear(DeviceFaults.EmergencyStop);
        Assert.Equal(moving ? AnswerResult.NotHomed : AnswerResult.Done, host.Move(1, 5).Result);
    }

    [Fact]
    public void A_start_with_the_emergency_stop_pressed_starts_faulted()
    {
        var host = new SteppedHost();
        host.Rig.PressEmergencyStop();
        host.Rig.Restart();
        host.AskHello();
        host.Run(0.2);
        Assert.Equal(DeviceFaults.EmergencyStop, host.State.Faults);
        EventMessage started = host.Events.Last(e => e.Code == DeviceEventCode.Started);
        Assert.Equal((int)DeviceFaults.EmergencyStop, started.Detail);
    }

    [Fact]
    public void A_drivers_fault_stays_while_the_driver_reports_it()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Move(1);
        host.Rig.Inject(new VirtualFault.Driver());
        host.Run(0.1);
        Assert.Equal(DeviceFaults.Driver, host.State.Faults);
        Assert.False(host.Rig.IsMotorMoving);
        host.Clear(DeviceFaults.Driver);
        Assert.Equal(DeviceFaults.Driver, host.Rig.Faults);
        host.Rig.Inject(new VirtualFault.Driver(Present: false));
        host.Clear(DeviceFaults.Driver);
        Assert.Equal(DeviceFaults.None, host.Rig.Faults);
    }

    [Fact]
    public void A_restart_draws_a_new_boot_number_and_forgets_limits_stream_and_home()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Home();
        host.RunUntil(() => host.State.Motion == MotionState.Still, 30);
        uint before = host.Hello.BootNumber;
        ushort limits = host.LimitsSent.LimitsId;
        host.Move(1);
        host.Rig.Restart();
        Assert.False(host.Rig.IsMotorMoving);
        host.Run(0.2);
        Assert.NotEqual(before, host.Hello.BootNumber);
        Assert.NotEqual(0u, host.Hello.BootNumber);
        Assert.Equal(0, host.State.LimitsId);
        Assert.Equal((ushort)0, host.State.LastCommand);
        Assert.False(host.State.Flags.HasFlag(StateBits.Homed));
        Assert.Equal(AnswerResult.WrongBoot, host.Move(1, change: m => m with { BootNumber = before, LimitsId = limits }).Result);
        Assert.Equal(AnswerResult.WrongLimits, host.Move(1, change: m => m with { LimitsId = limits }).Result);
    }

    [Fact]
    public void A_watchdogs_restart_says_so()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Rig.Inject(new VirtualFault.WatchdogRestart());
        host.Run(0.2);
        Assert.Equal(DeviceFaults.Watchdog, host.State.Faults);
        host.Clear(DeviceFaults.Watchdog);
        Assert.Equal(DeviceFaults.None, host.Rig.Faults);
    }

    [Fact]
    public void Nobodys_hands_go_between_the_grips_while_the_guard_is_closed()
    {
        SteppedHost host = new SteppedHost().Prepare();
        var specimen = new VirtualSpecimen { Label = "B", StrengthNewtons = 500 };
        Assert.Throws<InvalidOperationException>(() => host.Rig.LoadSpecimen(specimen));
        host.Rig.OpenGuard();
        host.Rig.LoadSpecimen(specimen);
        Assert.Equal(specimen, host.Rig.SpecimenInGrips);
        host.Rig.RemoveSpecimen();
        Assert.Null(host.Rig.SpecimenInGrips);
    }
}
