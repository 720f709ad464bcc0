using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Trace;
using RigDaq.Rig.Control;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Tests.Support;

namespace RigDaq.Rig.Tests.PlainDevices;

// From lines to a stored pull, with a person at the handle. In wall time: each pull takes about five seconds.
public sealed class HandTurnedSequenceTest
{
    private static readonly LineFormat Stamped = new() { Columns = 2, TimeColumn = 1, ForceColumn = 2 };
    private static readonly LineFormat Unstamped = new() { Columns = 1 };

    [Fact]
    public async Task A_person_confirms_and_turns_and_two_breaks_are_stored_from_lines_without_stamps()
    {
        await using var device = new TextDevice { Prints = (_, counts) => $"{counts}\r\n" };
        await using RigBench bench = Bench(device, new PlainDeviceSettings { Format = Unstamped, Name = "bench cell" });
        await bench.StartAsync(home: false);
        Assert.Contains("no motor", string.Join(" ", bench.Controller.Snapshot.ReasonsAgainstHandMotion));
        SequencePlan plan = Plan(2);
        Assert.Contains("cautions", (await bench.Controller.StartSequenceAsync(plan)).Message);
        bench.Controller.AcknowledgeCautions(plan.SequenceId);
        CommandResult begun = await bench.Controller.StartSequenceAsync(plan);
        Assert.True(begun.Done, begun.Message);
        for (int i = 1; i <= 2; i++)
        {
            await bench.UntilAsync(s => s.Sequence?.NeedsConfirmation == true, "asked for confirmation");
            device.LeaveHandle();
            if (i == 1)
            {
                // Fingers: 30 N appear and stay a while. Nothing starts.
                device.RestNewtons = 30;
                await bench.UntilAsync(s => s.ForceNewtons > 25, "loaded by fingers");
                Assert.True(bench.Controller.Snapshot.Sequence!.NeedsConfirmation);
                Assert.Empty(bench.Journal.Captures);
                device.RestNewtons = 0;
                await bench.UntilAsync(s => s.ForceNewtons < 1, "fingers away");
            }

            Assert.True((await bench.Controller.ConfirmPullAsync()).Done);
            RigSnapshot told = await bench.UntilStageAsync(SequenceStage.TakingUpSlack);
            Assert.Contains("Turn the handle now", told.Sequence!.Reason);
            device.Turn();
            int expected = i;
            await bench.UntilAsync(_ => bench.Recorder.Records.Count == expected, "recorded");
        }

        await bench.UntilStageAsync(SequenceStage.Finished);
        Assert.All(bench.Recorder.Records, record =>
        {
            Assert.Equal(PullEnding.Broken, record.Ending);
            Assert.Null(record.Head.StepsPerMillimetre);
            Assert.InRange(record.Head.StampStandardUncertaintySeconds, 1e-5, 0.1);
            Assert.InRange(record.Head.IntervalSeconds, 0.011, 0.02);
            ForceCurve curve = Curve;
            TraceReading reading = PullAnalysis.Read(record, curve).Reading;
            Assert.Equal(PullEnding.Broken, reading.Ending);
            Assert.InRange(reading.PeakForceNewtons!.Value, 54, 66);
            // A busy machine holds this device up, which then skips readings: the rate reads higher until the stamps have caught up.
            Assert.InRange(reading.LoadingRateNewtonsPerSecond!.Value, 40, 400);
            Assert.True(reading.LoadingRateStandardUncertaintyNewtonsPerSecond > 0);
        });
    }

    [Fact]
    public async Task Breaks_a_specimen_over_a_serial_port_with_the_device_s_own_stamps()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() || OperatingSystem.IsMacOS(), "This system has no pseudo-terminals.");
        await using var device = new TextDevice(pty: true);
        await using RigBench bench = Bench(device, new PlainDeviceSettings { Format = Stamped, Name = "bench cell" });
        await bench.StartAsync(home: false);
        await BeginAsync(bench, device, Plan(1));
        // One damaged line in the pull: it is dropped, counted and lost, and the pull goes on.
        device.Instead = "12\uFFFD4,??\r\n"u8.ToArray();
        await bench.UntilAsync(_ => bench.Recorder.Records.Count == 1, "recorded");
        PullRecord record = Assert.Single(bench.Recorder.Records);
        Assert.Equal(PullEnding.Broken, record.Ending);
        // A millisecond that is cut off: 1/√12 ms.
        Assert.Equal(0.000288675, record.Head.StampStandardUncertaintySeconds, 1e-8);
        TraceReading reading = PullAnalysis.Read(record, Curve).Reading;
        Assert.InRange(reading.PeakForceNewtons!.Value, 54, 66);
        Assert.True(reading.SamplesLost >= 1);
        RigSnapshot after = bench.Controller.Snapshot;
        Assert.True(after.LinkNews.LinesDropped >= 1);
        Assert.Contains(after.LinkNews.Words, words => words.Code == "linesDropped");
    }

    [Fact]
    public async Task A_device_that_stops_printing_ends_the_pull_as_interrupted_and_it_is_told()
    {
        await using var device = new TextDevice { StrengthNewtons = 1e6, RateNewtonsPerSecond = 10 };
        await using RigBench bench = Bench(device, new PlainDeviceSettings { Format = Stamped, Name = "bench cell" });
        await bench.StartAsync(home: false);
        await BeginAsync(bench, device, Plan(1));
        await bench.UntilStageAsync(SequenceStage.Pulling);
        device.Silent = true;
        RigSnapshot held = await bench.UntilStageAsync(SequenceStage.Held);
        Assert.Contains("no fresh readings", held.Sequence!.Reason);
        // Held first, stored a moment later.
        PullRecord record = await bench.RecordedAsync();
        Assert.Equal(PullEnding.Interrupted, record.Ending);
        Assert.NotEmpty(record.Trace.Samples);
        await bench.UntilAsync(s => s.LinkNews.Words.Any(words => words.Code == "noReadingFor"), "told");
        Assert.Equal(LinkStage.Up, bench.Controller.Snapshot.Link);
    }

    [Fact]
    public async Task A_handle_that_is_turned_before_it_is_told_to_holds_the_sequence()
    {
        await using var device = new TextDevice();
        await using RigBench bench = Bench(device, new PlainDeviceSettings { Format = Stamped, Name = "bench cell" });
        await bench.StartAsync(home: false);
        SequencePlan plan = Plan(1);
        bench.Controller.AcknowledgeCautions(plan.SequenceId);
        Assert.True((await bench.Controller.StartSequenceAsync(plan)).Done);
        await bench.UntilAsync(s => s.Sequence?.NeedsConfirmation == true, "asked for confirmation");
        Assert.True((await bench.Controller.ConfirmPullAsync()).Done);
        string stop = (await bench.Controller.StopAsync()).Message;
        Assert.Contains("nothing to stop", stop);
        Assert.Contains("sequence is held", stop);
        Assert.True((await bench.Controller.ResumeAsync()).Done);
        await bench.UntilAsync(s => s.Sequence?.NeedsConfirmation == true, "asked for confirmation again");
        Assert.True((await bench.Controller.ConfirmPullAsync()).Done);
        device.RestNewtons = 20;
        RigSnapshot held = await bench.UntilStageAsync(SequenceStage.Held);
        Assert.Contains("turned too early", held.Sequence!.Reason);
        Assert.Empty(bench.Journal.Captures);
    }

    internal static ForceCurve Curve => new([1 / TextDevice.CountsPerNewton]);

    internal static async Task BeginAsync(RigBench bench, TextDevice device, SequencePlan plan)
    {
        bench.Controller.AcknowledgeCautions(plan.SequenceId);
        CommandResult begun = await bench.Controller.StartSequenceAsync(plan);
        Assert.True(begun.Done, begun.Message);
        await bench.UntilAsync(s => s.Sequence?.NeedsConfirmation == true, "asked for confirmation");
        Assert.True((await bench.Controller.ConfirmPullAsync()).Done);
        await bench.UntilStageAsync(SequenceStage.TakingUpSlack);
        device.Turn();
    }

    internal static SequencePlan Plan(int specimens) => RigBench.PlanFor(specimens);

    internal static RigBench Bench(TextDevice device, PlainDeviceSettings settings, ForceCurve? curve = null) =>
        new(opener: new PlainDeviceOpener(device, settings), curve: curve ?? Curve);
}
