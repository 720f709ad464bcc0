using System.Text.Json;
using RigDaq.Protocol.Messages;

namespace RigDaq.Protocol.Tests.Firmware;

/// <summary>
/// The real image of the ATmega328P with inputs, a converter and a drive that lie: what it did before stands beside each case, measured on
/// the same image in the same simulator. 400 steps are a millimetre; the cell gives 10,000 counts per newton.
/// </summary>
public sealed class FirmwareFooledTest
{
    /// <summary>Before: 12,000 steps on in 3 s, motor powered, no fault, with any of these pairs.</summary>
    [Theory]
    [InlineData("chatter driver 1000 1000", "guard 0", DeviceFaults.GuardOpened)]
    [InlineData("chatter lower 50 1950", "guard 0", DeviceFaults.GuardOpened)]
    [InlineData("chatter upper 100 900", "estop 1", DeviceFaults.EmergencyStop)]
    [InlineData("chatter guard 50 450", "estop 1", DeviceFaults.EmergencyStop)]
    [InlineData("chatter estop 50 1000", "driver 1", DeviceFaults.Driver)]
    public async Task An_input_that_chatters_blinds_no_other(string chatter, string input, DeviceFaults fault)
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        LockStepHost host = await Moving(board);
        await board.Ask(chatter);
        double pressed = await Now(board);
        await board.Ask(input);
        await host.Run(300);
        JsonElement pins = await board.Look();
        Assert.InRange(Seconds(pins, "lastStepSeconds") - pressed, -0.01, 0.005);
        Assert.InRange(Seconds(pins, "powerOffSeconds") - pressed, 0, 0.005);
        Assert.True(host.State.Faults.HasFlag(fault), $"{host.State.Faults}");
    }

    /// <summary>Before: it moved on for ever.</summary>
    [Theory]
    [InlineData("chatter guard 1000 1000", DeviceFaults.GuardOpened, 0.006)]
    [InlineData("chatter estop 200 10000", DeviceFaults.EmergencyStop, 0.120)]
    [InlineData("chatter lower 1000 15000", DeviceFaults.TravelLimit, 0.040)]
    public async Task An_input_that_never_settles_counts_as_bad(string chatter, DeviceFaults fault, double secondsMax)
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        LockStepHost host = await Moving(board);
        double began = await Now(board);
        await board.Ask(chatter);
        await host.Run(300);
        Assert.InRange(Seconds(await board.Look(), "lastStepSeconds") - began, -0.01, secondsMax);
        Assert.Equal(fault, host.State.Faults);
    }

    /// <summary>
    /// Before: a data line held low read as 2,000 good zeros a second and the force ran to 1,088 N under a limit of 192 N; a frozen reading
    /// the same; a strap at a tenth of the rate that the image was built for was held to be alive.
    /// </summary>
    [Theory]
    [InlineData("low 1", 0.05)]
    [InlineData("stuck 1", 0.13)]
    [InlineData("starve 2", 0.10)]
    [InlineData("rate 40", 0.13)]
    [InlineData("rate 320", 0.05)]
    [InlineData("converter 0", 0.039)]
    public async Task A_converter_that_cannot_be_right_stops_the_pull(string lie, double secondsMax)
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        LockStepHost host = await Moving(board);
        await board.Ask("specimen 200 0 2000");
        double began = await Now(board);
        await board.Ask(lie);
        await host.Run(1000);
        JsonElement pins = await board.Look();
        Assert.InRange(Seconds(pins, "lastStepSeconds") - began, -0.01, secondsMax);
        Assert.Equal(DeviceFaults.Converter, host.State.Faults);
        Assert.InRange(pins.GetProperty("peak").GetDouble(), 0, 200 * 2.5 * (secondsMax + 0.005)); // N: stiffness × speed × time
        Assert.Equal(AnswerResult.Done, await host.ClearFaults());
        Assert.Equal(AnswerResult.Faulted, await host.Move(-1000)); // as long as it lasts
    }

    /// <summary>Before: a motion was taken.</summary>
    [Fact]
    public async Task Nothing_moves_where_the_data_line_is_low_from_the_start()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        await board.Ask("low 1");
        var host = new LockStepHost(board);
        await host.Begin();
        Assert.Equal(AnswerResult.Faulted, await host.Move(1000));
        Assert.Equal(DeviceFaults.Converter, host.State.Faults);
    }

    /// <summary>Before: 40 mm and more into the upper end, without a fault.</summary>
    [Fact]
    public async Task Homing_with_swapped_motor_leads_ends_at_the_upper_limit()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        var host = new LockStepHost(board);
        await host.Begin();
        await board.Ask("swapped 1");
        Assert.Equal(AnswerResult.Done, await host.Home());
        await host.Run(700);
        double reached = await Now(board);
        await board.Ask("upper 1");
        await host.Run(1000);
        Assert.InRange(Seconds(await board.Look(), "lastStepSeconds") - reached, -0.01, 0.005);
        Assert.Equal(DeviceFaults.TravelLimit, host.State.Faults);
        Assert.False(host.State.Flags.HasFlag(StateBits.Homed));
    }

    /// <summary>Before: 166 mm up.</summary>
    [Fact]
    public async Task Homing_on_a_lower_limit_with_a_cut_wire_ends_within_its_clearance_and_two_millimetres()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        await board.Ask("lower 1000000");
        var host = new LockStepHost(board);
        await host.Begin();
        Assert.Equal(AnswerResult.Done, await host.Home());
        await host.RunUntilStill(10_000);
        Assert.Equal(DeviceFaults.TravelLimit, host.State.Faults);
        Assert.InRange((await board.Look()).GetProperty("steps").GetInt32(), 1, 400 + 800 + 1);
        await board.Ask("upper 1"); // both at once: a plug is out
        await host.Run(50);
        Assert.Equal(AnswerResult.Done, await host.ClearFaults());
        Assert.Equal(AnswerResult.OutsideLimits, await host.Home());
    }

    /// <summary>Before: with the converter at its end every motion was refused, and only a spanner helped.</summary>
    [Fact]
    public async Task A_jammed_rig_with_a_saturated_converter_lets_go_while_it_is_held_to()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        LockStepHost host = await Moving(board);
        await board.Ask("specimen 2000 0 100000");
        await host.Run(1000);
        await board.Ask("weight 2000"); // beyond what the converter can show
        await host.Run(300);
        Assert.Equal(DeviceFaults.ForceLimit | DeviceFaults.Converter, host.State.Faults);
        long jammed = (await board.Look()).GetProperty("position").GetInt64();
        Assert.Equal(AnswerResult.Done, await host.ClearFaults());
        Assert.Equal(AnswerResult.Faulted, await host.Move(-400));
        Assert.Equal(AnswerResult.OutsideLimits, await host.Release(400));
        for (int i = 0; i < 5; i++)
        {
            Assert.Equal(AnswerResult.Done, await host.Release(-400));
            await host.Run(150);
        }

        await host.Run(1000);
        Assert.Equal(MotionState.Still, host.State.Motion);
        Assert.InRange(jammed - (await board.Look()).GetProperty("position").GetInt64(), 300, 480); // 0.9 to 1.05 s at 400 steps/s
        Assert.Equal(DeviceFaults.Converter, host.State.Faults);
        await board.Ask("guard 0");
        await host.Run(20);
        Assert.Equal(0, (await board.Look()).GetProperty("powered").GetInt32()); // at standstill too
        Assert.Equal(AnswerResult.GuardOpen, await host.Release(-400));
    }

    private static async Task<LockStepHost> Moving(SimulatedBoard board)
    {
        var host = new LockStepHost(board);
        await host.Begin();
        Assert.Equal(AnswerResult.Done, await host.Move(1000));
        await host.Run(500);
        Assert.Equal(DeviceFaults.None, host.State.Faults);
        return host;
    }

    private static async Task<double> Now(SimulatedBoard board) => Seconds(await board.Look(), "seconds");

    private static double Seconds(JsonElement pins, string name) => pins.GetProperty(name).GetDouble();
}
