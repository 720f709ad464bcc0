using System.Text.Json;
using RigDaq.Protocol.Messages;

namespace RigDaq.Protocol.Tests.Firmware;

/// <summary>
/// The real image of the ATmega328P in lock step: what it says on the wire against what happens at its pins. The specimen is a spring of
/// 50 N/mm behind 0.5 mm of slack; the cell gives 10,000 counts per newton from 84,000.
/// </summary>
public sealed class FirmwareImageTest
{
    private const string Specimen = "specimen 50 0.5 200";
    private const int ZeroCounts = 84_000;
    private const int CountsPerNewton = 10_000;
    private const int HalfNoiseCounts = 20;

    [Fact]
    public async Task It_says_hello_and_what_it_can_do()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        var host = new LockStepHost(board);
        await host.Run(1200);
        Assert.Equal((HelloMessage.MajorVersion, 400_000u, 80_000u, (byte)24),
            (host.Hello.VersionMajor, host.Hello.StepsPerMetre, host.Hello.ConverterRateMillihertz, host.Hello.ConverterBits));
        Assert.Equal(Capabilities.Motion | Capabilities.Position | Capabilities.Guard | Capabilities.EmergencyStop
            | Capabilities.TravelLimits | Capabilities.Homing | Capabilities.Release | Capabilities.Channels, host.Hello.Capabilities);
        Assert.Equal((1, 0u), (host.Hello.Channels, host.Hello.LineBytesPerSecond));
        Assert.Equal(InputStates.GuardClosed | InputStates.EmergencyStopReleased | InputStates.ConverterAlive, host.State.Inputs);
        Assert.Equal(DeviceEventCode.Started, Assert.Single(host.Events).Code);
        Assert.Equal(0, host.FramesBad);
        Assert.Equal(0, host.Received[0]);
    }

    /// <summary>PROTOCOL.md, 20. What the simulated chip's sensor reads is nobody's temperature; when it comes and what it says of itself
    /// is the image's.</summary>
    [Fact]
    public async Task It_tells_its_chips_temperature_ten_times_a_second_also_at_full_speed_and_loses_no_sample()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        var host = new LockStepHost(board);
        await host.Begin();
        Assert.Equal(AnswerResult.BadValue, await host.Channel(1, on: true));
        Assert.Equal(AnswerResult.Done, await host.Channel(0, on: true));
        ChannelDescriptionMessage told = Assert.Single(host.Descriptions);
        Assert.Equal((host.Hello.BootNumber, ChannelKind.Temperature, (ushort)8, "°C", true),
            (told.BootNumber, told.Kind, told.Divider, told.Unit, told.IsUsable));
        // 314 mV are 25 °C and 1 mV a degree (data sheet, typical, from memory); 1.1 V over 1,024 steps.
        double Degrees(double millivolts) => ((millivolts / 1100 * 1024) - told.Zero) * told.Numerator / told.Denominator;
        Assert.Equal(25, Degrees(314), 1);
        Assert.Equal(85, Degrees(374), 1);
        Assert.Equal(AnswerResult.Done, await host.Home());
        await host.RunUntilStill(5000);
        await host.MoveTo(8000);
        host.Values.Clear();
        host.Samples.Clear();
        await host.Run(2000);
        Assert.InRange(host.Values.Count, 19, 21);
        Assert.All(host.Values, value => Assert.Equal(0u, value.Number % 8));
        for (int i = 1; i < host.Values.Count; i++) Assert.Equal(host.Values[i - 1].Number + 8, host.Values[i].Number);
        for (int i = 1; i < host.Samples.Count; i++) Assert.Equal(host.Samples[i - 1].Number + 1, host.Samples[i].Number);
        Assert.Equal(0, host.FramesBad);
        TestContext.Current.TestOutputHelper!.WriteLine($"{host.Values[^1].Raw} raw; {await board.Ask("get")}");
    }

    [Fact]
    public async Task It_homes_pulls_and_breaks_a_specimen_and_every_sample_arrives()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        var host = new LockStepHost(board);
        await host.Begin();
        Assert.Equal(AnswerResult.Done, await host.Home());
        await host.RunUntilStill(5000);
        Assert.True(host.State.Flags.HasFlag(StateBits.Homed));
        Assert.Equal(AnswerResult.Done, await host.MoveTo(1000));
        await host.RunUntilStill(5000);
        await host.Run(100);
        Assert.Equal(1000, host.Samples[^1].Steps);

        await board.Ask(Specimen);
        host.Samples.Clear();
        Assert.Equal(AnswerResult.Done, await host.Move(1000)); // 2.5 mm/s: 4.5 mm to the break
        for (int i = 0; i < 100 && !IsBroken(await board.Look()); i++) await host.Run(50);
        Assert.Equal(AnswerResult.Done, await host.Stop(atOnce: false));
        await host.RunUntilStill(1000);

        JsonElement pins = await board.Look();
        Assert.True(IsBroken(pins));
        Assert.Equal(host.Samples.Count - 1, (int)(host.Samples[^1].Number - host.Samples[0].Number));
        // What the wire says of force and position is what the spring and the pins say, within the noise and one step.
        foreach ((uint _, uint _, int counts, int steps) in host.Samples.TakeWhile(s => s.Steps < 1000 + (4.4 * 400)))
        {
            double force = Math.Max(0, 50 * (((steps - 1000) / 400.0) - 0.5));
            Assert.InRange(counts, ZeroCounts + (CountsPerNewton * (force - 0.13)) - HalfNoiseCounts, ZeroCounts
                + (CountsPerNewton * (force + 0.13)) + HalfNoiseCounts);
        }

        Assert.Equal(200, pins.GetProperty("peak").GetDouble(), 0.13);
        Assert.InRange(host.Samples.Max(s => s.Counts), ZeroCounts + (195 * CountsPerNewton), ZeroCounts + (200 * CountsPerNewton)
            + HalfNoiseCounts);
        Assert.Equal((0, 0, 0), (Int(pins, "conversionsMissed"), Int(pins, "powerDowns"), Int(pins, "stepsWithoutPower")));
        Assert.Equal(0, host.FramesBad);
    }

    [Fact]
    public async Task Its_pulses_are_long_enough_and_its_interrupt_short_enough_at_full_speed()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        var host = new LockStepHost(board);
        await host.Begin();
        Assert.Equal(AnswerResult.Done, await host.Move(4000));
        await host.Run(3000);
        JsonElement pins = await board.Look();
        Assert.True(Int(pins, "steps") > 10_000);
        // Drivers want 1 to 2 µs; the converter switches itself off at 60 µs of clock. Both from the parts' data sheets, from memory.
        Assert.True(pins.GetProperty("stepHighMicrosecondsMin").GetDouble() > 10);
        Assert.True(pins.GetProperty("stepGapMicrosecondsMin").GetDouble() > 199); // 4,000 steps/s, on a grid of 50 µs
        Assert.True(pins.GetProperty("clockHighMicrosecondsMax").GetDouble() < 5);
        Assert.True(Int(pins, "tickCyclesMax") < 600, $"{Int(pins, "tickCyclesMax")} of the tick's 800 cycles");
        Assert.True(Int(pins, "ramNeverUsed") > 300, $"{Int(pins, "ramNeverUsed")} bytes of RAM never used");
        Assert.Equal(0, Int(pins, "conversionsMissed"));
    }

    [Theory]
    [InlineData("guard 0", DeviceFaults.GuardOpened)]
    [InlineData("estop 1", DeviceFaults.EmergencyStop)]
    [InlineData("driver 1", DeviceFaults.Driver)]
    public async Task A_safety_input_in_mid_pull_stops_it_and_cuts_the_power(string input, DeviceFaults fault)
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        var host = new LockStepHost(board);
        await host.Begin();
        await board.Ask(Specimen);
        Assert.Equal(AnswerResult.Done, await host.Move(1000));
        await host.Run(1500);
        double pressed = Seconds(await board.Look(), "seconds");
        await board.Ask(input);
        await host.Run(300);

        JsonElement pins = await board.Look();
        Assert.InRange(Seconds(pins, "lastStepSeconds") - pressed, -0.01, 0.005);
        Assert.InRange(Seconds(pins, "powerOffSeconds") - pressed, 0, 0.005);
        Assert.Equal(fault, host.State.Faults);
        Assert.False(host.State.Flags.HasFlag(StateBits.MotorEnabled));
        Assert.Contains(host.Events, e => e.Code == DeviceEventCode.FaultRaised && e.Detail == (int)fault);
        Assert.NotEqual(AnswerResult.Done, await host.Move(1000));

        await board.Ask(input == "guard 0" ? "guard 1" : input.Replace('1', '0'));
        await host.Run(50); // good only after 20 ms
        Assert.Equal(AnswerResult.Faulted, await host.Move(1000));
        Assert.Equal(AnswerResult.Done, await host.ClearFaults());
        Assert.Equal(AnswerResult.Done, await host.Move(1000));
    }

    [Fact]
    public async Task Silence_takes_the_motor_off_within_half_a_second()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        var host = new LockStepHost(board);
        await host.Begin();
        Assert.Equal(AnswerResult.Done, await host.Move(1000));
        await host.Run(1000);
        host.KeepsAlive = false;
        double silent = Seconds(await board.Look(), "seconds");
        await host.Run(700);
        JsonElement pins = await board.Look();
        // The last keep-alive lies up to 100 ms before the silence.
        Assert.InRange(Seconds(pins, "powerOffSeconds") - silent, 0.4, 0.52);
        Assert.True(Seconds(pins, "lastStepSeconds") <= Seconds(pins, "powerOffSeconds"));
        Assert.Equal(DeviceFaults.KeepAliveLost, host.State.Faults);
    }

    [Theory]
    [InlineData("hang")]
    [InlineData("hang all")]
    public async Task A_hung_program_is_restarted_by_its_watchdog_and_stands(string hang)
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        var host = new LockStepHost(board);
        await host.Begin();
        uint boot = host.Hello.BootNumber;
        Assert.Equal(AnswerResult.Done, await host.Move(1000));
        await host.Run(500);
        double hung = Seconds(await board.Look(), "seconds");
        await board.Ask(hang);
        await host.Run(1500);

        JsonElement pins = await board.Look();
        Assert.Equal(1, Int(pins, "resets"));
        Assert.Equal(0, Int(pins, "powered"));
        // the tick stops it; it ran on for 0.26 s until the watchdog came
        Assert.InRange(Seconds(pins, "lastStepSeconds") - hung, -0.01, 0.022);
        Assert.NotEqual(boot, host.Hello.BootNumber);
        Assert.Equal((DeviceFaults.Watchdog, (ushort)0), (host.State.Faults, host.State.LimitsId));
        Assert.Equal(AnswerResult.WrongLimits, await host.Move(1000));
        Assert.Equal(AnswerResult.Done, await host.Limits(4_000_000));
        Assert.Equal(AnswerResult.Faulted, await host.Move(1000));
        Assert.Equal(AnswerResult.Done, await host.ClearFaults());
        Assert.Equal(AnswerResult.Done, await host.Move(1000));
    }

    /// <summary>A program that hangs again and again is not to be trusted with a motor until somebody has switched it off and
    /// looked.</summary>
    [Fact]
    public async Task After_three_restarts_by_its_watchdog_it_stands_and_says_why_it_started()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        var host = new LockStepHost(board);
        await host.Begin();
        var boots = new HashSet<uint> { host.Hello.BootNumber };
        for (int hang = 1; hang <= 4; hang++)
        {
            host.Events.Clear();
            await board.Ask("hang");
            await host.Run(1500);
            Assert.True(boots.Add(host.Hello.BootNumber), "a boot number twice");
            EventMessage started = Assert.Single(host.Events, e => e.Code == DeviceEventCode.Started);
            Assert.Equal((int)DeviceFaults.Watchdog, started.Detail & 0xFFFF);
            Assert.Equal(hang < 3 ? StartCauses.Watchdog : StartCauses.Watchdog | StartCauses.Held, started.StartedBecause);
            Assert.Equal(AnswerResult.Done, await host.Limits(4_000_000));
            Assert.Equal(AnswerResult.Done, await host.ClearFaults());
            Assert.Equal(hang < 3 ? AnswerResult.Done : AnswerResult.Faulted, await host.Move(1000));
            await host.Stop(atOnce: true);
        }

        Assert.Equal(DeviceFaults.Watchdog, host.State.Faults);
    }

    /// <summary>What a restart finds at its pins counts, though the simulated pins were high before it already.</summary>
    [Fact]
    public async Task A_restart_with_the_emergency_stop_pressed_says_so()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        var host = new LockStepHost(board);
        await host.Begin();
        await board.Ask("estop 1");
        await board.Ask("hang");
        await host.Run(1500);
        Assert.Equal(1, Int(await board.Look(), "resets"));
        Assert.Equal(DeviceFaults.Watchdog | DeviceFaults.EmergencyStop, host.State.Faults);
        Assert.False(host.State.Inputs.HasFlag(InputStates.EmergencyStopReleased));
    }

    [Fact]
    public async Task A_dead_converter_stops_it()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        var host = new LockStepHost(board);
        await host.Begin();
        Assert.Equal(AnswerResult.Done, await host.Move(1000));
        await host.Run(500);
        double dead = Seconds(await board.Look(), "seconds");
        await board.Ask("converter 0");
        await host.Run(300);
        Assert.InRange(Seconds(await board.Look(), "lastStepSeconds") - dead, 0, 0.039); // two and a half periods and 5 ms
        Assert.Equal(DeviceFaults.Converter, host.State.Faults);
        Assert.False(host.State.Inputs.HasFlag(InputStates.ConverterAlive));
    }

    [Fact]
    public async Task The_force_limit_holds_without_the_host_and_leaves_a_way_back()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        var host = new LockStepHost(board);
        await host.Begin(forceCountsMax: ZeroCounts + (100 * CountsPerNewton));
        await board.Ask(Specimen);
        Assert.Equal(AnswerResult.Done, await host.Move(1000));
        await host.RunUntilStill(4000);
        Assert.Equal(DeviceFaults.ForceLimit, host.State.Faults);
        // Two conversions in a row decide; one interval at 80/s and 2.5 mm/s on 50 N/mm is 1.6 N.
        Assert.InRange((await board.Look()).GetProperty("peak").GetDouble(), 101.5, 103.5);
        Assert.Equal(AnswerResult.Done, await host.ClearFaults());
        Assert.Equal(AnswerResult.OutsideLimits, await host.Move(1000));
        Assert.Equal(AnswerResult.Done, await host.Move(-1000));
        await host.Run(500);
        Assert.Equal(DeviceFaults.None, host.State.Faults);
    }

    [Fact]
    public async Task Garbage_on_the_line_costs_nothing_but_itself()
    {
        await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
        var host = new LockStepHost(board);
        await host.Begin();
        var random = new Random(7);
        for (int i = 0; i < 20; i++)
        {
            var garbage = new byte[random.Next(1, 300)];
            random.NextBytes(garbage);
            host.SendRaw(garbage);
            Assert.Equal(AnswerResult.Done, await host.Limits(4_000_000));
        }

        Assert.Equal(0, host.FramesBad);
        Assert.Equal(0, Int(await board.Look(), "resets"));
    }

    [Fact]
    public async Task The_same_commands_give_the_same_frames_every_time()
    {
        byte[] first = await Play();
        Assert.Equal(first, await Play());

        static async Task<byte[]> Play()
        {
            await using SimulatedBoard board = await SimulatedBoard.Start(SimulatedBoard.LockStep);
            var host = new LockStepHost(board);
            await host.Begin();
            for (int i = 0; i < 5; i++)
            {
                await board.Ask(Specimen);
                await host.Move(2000);
                await host.Run(1000);
                await host.Stop(atOnce: false);
                await host.RunUntilStill(1000);
                await host.Move(-2000);
                await host.Run(1000);
                await host.Stop(atOnce: true);
            }

            return [.. host.Received];
        }
    }

    private static bool IsBroken(JsonElement pins) => Int(pins, "broken") == 1;

    private static int Int(JsonElement pins, string name) => pins.GetProperty(name).GetInt32();

    private static double Seconds(JsonElement pins, string name) => pins.GetProperty(name).GetDouble();
}
