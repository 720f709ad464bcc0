using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual.Tests.Lines;

/// <summary>
/// The virtual rig doubts its converter and its switches as PROTOCOL.md, 9 and 10, say and the firmware does (FirmwareFooledTest): before,
/// it pulled on under each of these until the daemon noticed.
/// </summary>
public sealed class LyingConverterTest
{
    private const double RateHertz = 320, MillimetresPerSecond = 0.5;

    public static TheoryData<VirtualFault, double> Lies => new()
    {
        // Eight equal to the one before; an extra one for where in the period it began.
        { new VirtualFault.StuckConverter(TimeSpan.FromSeconds(3)), 10 / RateHertz },
        // Three late ones in a row, each two periods after the one before.
        { new VirtualFault.StarvedConverter(2, TimeSpan.FromSeconds(3)), 8 / RateHertz },
        // Two too early for each that is on time: the second period is the fault.
        { new VirtualFault.DataLineLow(TimeSpan.FromSeconds(3)), 4 / RateHertz },
    };

    [Theory]
    [MemberData(nameof(Lies))]
    public void A_converter_that_cannot_be_right_stops_the_motion_and_forbids_the_next(VirtualFault lie, double secondsMax)
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Run(1.2);
        host.Move(MillimetresPerSecond);
        host.Run(0.3);
        Assert.True(host.Rig.IsMotorMoving);
        host.Rig.Inject(lie);
        Assert.True(host.RunUntil(() => !host.Rig.IsMotorMoving, secondsMax + 0.02), "it moves on"); // 20 ms: the portions of this host
        host.Run(0.2);
        Assert.Equal(DeviceFaults.Converter, host.State.Faults);
        Assert.True(host.Rig.IsMotorPowered);
        host.Clear(DeviceFaults.Converter);
        host.Run(0.1);
        Assert.Equal(DeviceFaults.Converter, host.State.Faults);
        host.Run(4);
        host.Clear(DeviceFaults.Converter);
        host.Run(0.1);
        Assert.Equal(DeviceFaults.None, host.State.Faults);
    }

    [Theory]
    [InlineData(true, 0.5)] // ahead
    [InlineData(false, 0.5)] // behind: the drive runs the wrong way
    [InlineData(true, -0.5)]
    [InlineData(false, -0.5)]
    public void A_limit_that_closes_in_motion_stops_it_ahead_and_behind(bool upper, double speed)
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Run(1.2);
        host.Move(speed);
        host.Run(0.3);
        host.Rig.PressLimit(upper);
        Assert.False(host.Rig.IsMotorMoving);
        host.Run(0.2);
        Assert.Equal(DeviceFaults.TravelLimit, host.State.Faults);
        host.Rig.LetGoOfLimit(upper);
        host.Clear(DeviceFaults.TravelLimit);
        host.Run(0.1);
        Assert.Equal(DeviceFaults.None, host.State.Faults);
    }

    [Fact]
    public void Homing_on_a_lower_limit_with_a_cut_wire_is_given_up_and_with_both_reached_refused()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Run(1.2);
        host.Rig.PressLimit(upper: false);
        Assert.Equal(AnswerResult.Done, host.Home().Result);
        Assert.True(host.RunUntil(() => !host.Rig.IsMotorMoving && host.Rig.Faults == DeviceFaults.TravelLimit, 60));
        Assert.False(host.State.Flags.HasFlag(StateBits.Homed));
        host.Rig.PressLimit(upper: true);
        host.Clear(DeviceFaults.TravelLimit);
        Assert.Equal(AnswerResult.OutsideLimits, host.Home().Result);
    }
}
