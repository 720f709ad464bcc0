using System.Text.Json;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Strength;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Firmware.Tests;

/// <summary>
/// The image that goes into the chip against the controller that goes into the daemon, in lock step: a sequence, and whatever can go wrong
/// in the middle of a pull. The specimen is a spring of 50 N/mm that breaks at a given force.
/// </summary>
public sealed class RealImageTest
{
    [Fact]
    public async Task A_sequence_breaks_its_specimens_and_records_the_forces_at_which_they_broke()
    {
        await using FirmwareBench bench = await FirmwareBench.Start();
        await bench.StartSequence(FirmwareBench.PlanFor(2));
        double[] breaks = [80, 120];
        foreach (double newtons in breaks)
        {
            int recorded = bench.Recorder.Records.Count;
            await bench.ChangeSpecimen(newtons);
            await bench.Until(s => bench.Recorder.Records.Count > recorded || s.Sequence?.Stage == SequenceStage.Held, "pulled");
        }

        await bench.Until(s => s.Sequence?.Stage is SequenceStage.Finished or SequenceStage.Held, "finished");
        Assert.True(bench.Controller.Snapshot.Sequence!.Stage == SequenceStage.Finished, bench.Controller.Snapshot.Sequence.Reason);
        PullRecord[] records = [.. bench.Recorder.Records];
        Assert.All(records, r => Assert.Equal(PullEnding.Broken, r.Ending));
        for (int i = 0; i < breaks.Length; i++)
        {
            double peak = (records[i].Trace.Samples.Max(s => s.Counts) - records[i].Head.ZeroCounts) * FirmwareBench.NewtonsPerCount;
            // Between two of 80 conversions a second at 1 mm/s on 50 N/mm the force rises by 0.63 N.
            Assert.InRange(peak, breaks[i] - 0.7, breaks[i] + 0.01);
        }

        Assert.Equal(0, bench.Controller.Snapshot.SamplesLost);
        Assert.Equal(0, bench.Controller.Snapshot.FramesBad);
        Assert.Equal(0, bench.Controller.Snapshot.DeviceRestarts);
    }

    [Fact]
    public async Task Weights_give_the_cells_curve_back_and_a_break_is_read_under_it()
    {
        await using FirmwareBench bench = await FirmwareBench.Start();
        double zero = await bench.CountsUnder(0);
        double[] newtons = [10, 20, 30, 40, 50];
        var deflections = new List<double>();
        foreach (double weight in newtons) deflections.Add(await bench.CountsUnder(weight) - zero);
        await bench.CountsUnder(0);
        PolynomialFit fit = PolynomialFit.Of(deflections, newtons, degree: 1, constant: false);
        // The board's cell is a straight line with 20 counts of noise; the mean of several conversions is finer than that.
        Assert.Equal(FirmwareBench.NewtonsPerCount, fit.Coefficients[0], FirmwareBench.NewtonsPerCount * 1e-4);

        CalibrationRecord calibration = FirmwareBench.CalibrationOf(bench.Controller.Snapshot.Device!.Id) with
        {
            Id = "0190a0a0-0000-7000-8000-000000000003",
            Curve = new ForceCurve(fit.Coefficients),
        };
        Assert.True((await bench.Ask(bench.Controller.SetCalibration(calibration))).Done);
        await bench.StartSequence(FirmwareBench.PlanFor(1));
        await bench.ChangeSpecimen(90);
        await bench.Until(s => s.Sequence?.Stage is SequenceStage.Finished or SequenceStage.Held, "pulled");
        PullRecord record = Assert.Single(bench.Recorder.Records);
        Assert.Equal((PullEnding.Broken, calibration.Id), (record.Ending, record.Head.CalibrationId));
        double peak = fit.At(record.Trace.Samples.Max(s => s.Counts) - record.Head.ZeroCounts);
        Assert.InRange(peak, 89.3, 90.02);
    }

    [Theory]
    [InlineData("guard 0", DeviceFaults.GuardOpened, PullEnding.Stopped)]
    [InlineData("estop 1", DeviceFaults.EmergencyStop, PullEnding.Stopped)]
    [InlineData("converter 0", DeviceFaults.Converter, PullEnding.Interrupted)]
    public async Task A_fault_in_mid_pull_stops_the_motor_holds_the_sequence_and_keeps_the_run(string command, DeviceFaults fault, PullEnding ending)
    {
        await using FirmwareBench bench = await InMidPull();
        double pressed = Seconds(await bench.Board.Look(), "seconds");
        await bench.Board.Ask(command);
        await bench.Until(s => s.Sequence?.Stage == SequenceStage.Held && !bench.Recorder.Records.IsEmpty, "held and recorded");

        JsonElement pins = await bench.Board.Look();
        Assert.InRange(Seconds(pins, "lastStepSeconds") - pressed, -0.01, 0.1);
        Assert.True(bench.Controller.Snapshot.Faults.HasFlag(fault), $"{bench.Controller.Snapshot.Faults}");
        PullRecord record = Assert.Single(bench.Recorder.Records);
        Assert.True(record.Ending == ending, $"{record.Ending}: {record.Reason}");
        Assert.NotEmpty(bench.Controller.Snapshot.Sequence!.Reason);
        int steps = pins.GetProperty("steps").GetInt32();
        await bench.Run(TimeSpan.FromSeconds(2));
        Assert.Equal(steps, (await bench.Board.Look()).GetProperty("steps").GetInt32());
    }

    [Fact]
    public async Task A_host_that_is_not_heard_any_more_is_no_host_the_motor_is_off_in_half_a_second()
    {
        await using FirmwareBench bench = await InMidPull();
        double muted = Seconds(await bench.Board.Look(), "seconds");
        bench.Cable.HostIsMute = true;
        await bench.Run(TimeSpan.FromSeconds(0.7));
        JsonElement pins = await bench.Board.Look();
        Assert.InRange(Seconds(pins, "powerOffSeconds") - muted, 0.35, 0.52);
        Assert.Equal(0, pins.GetProperty("powered").GetInt32());
        bench.Cable.HostIsMute = false;
        await bench.Until(s => !bench.Recorder.Records.IsEmpty, "recorded");
        Assert.NotEqual(PullEnding.Broken, Assert.Single(bench.Recorder.Records).Ending);
    }

    [Fact]
    public async Task A_hung_program_restarts_standing_and_the_controller_moves_nothing_by_itself()
    {
        await using FirmwareBench bench = await InMidPull();
        double hung = Seconds(await bench.Board.Look(), "seconds");
        await bench.Board.Ask("hang");
        await bench.Until(s => s.DeviceRestarts == 1 && s.Sequence?.Stage == SequenceStage.Held && !bench.Recorder.Records.IsEmpty, "held after the restart");
        JsonElement pins = await bench.Board.Look();
        Assert.Equal(1, pins.GetProperty("resets").GetInt32());
        Assert.InRange(Seconds(pins, "lastStepSeconds") - hung, -0.01, 0.3);
        Assert.NotEqual(PullEnding.Broken, Assert.Single(bench.Recorder.Records).Ending);
        int steps = pins.GetProperty("steps").GetInt32();
        await bench.Run(TimeSpan.FromSeconds(2));
        Assert.Equal(steps, (await bench.Board.Look()).GetProperty("steps").GetInt32());
        Assert.True(bench.Controller.Snapshot.Faults.HasFlag(DeviceFaults.Watchdog));
    }

    private static async Task<FirmwareBench> InMidPull()
    {
        FirmwareBench bench = await FirmwareBench.Start();
        await bench.StartSequence(FirmwareBench.PlanFor(1));
        await bench.ChangeSpecimen(200);
        await bench.Until(s => s.Sequence?.Stage == SequenceStage.Pulling && s.ForceNewtons > 30, "in mid-pull");
        return bench;
    }

    private static double Seconds(JsonElement pins, string name) => pins.GetProperty(name).GetDouble();
}
