using RigDaq.Core.Pulls;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Tests.Support;
using RigDaq.Virtual;

namespace RigDaq.Rig.Tests.Control;

public sealed class FailedPullTest
{
    [Fact]
    public async Task An_unplugged_cable_interrupts_the_pull_the_link_comes_back_and_the_sequence_waits_for_a_person()
    {
        await using RigBench bench = await RigBench.InMidPullAsync(2);
        bench.Rig.Inject(new VirtualFault.Unplug(TimeSpan.FromSeconds(1)));
        RigSnapshot held = await bench.UntilStageAsync(SequenceStage.Held);
        Assert.Equal("linkLost", held.Sequence!.Reason.Code);
        PullRecord record = await bench.RecordedAsync();
        Assert.Equal(PullEnding.Interrupted, record.Ending);
        Assert.NotEmpty(record.Trace.Samples);
        await bench.UntilAsync(_ => !bench.Rig.IsMotorMoving, "standing: the device stops by itself");
        await bench.UntilAsync(s => s.Link == LinkStage.Up && s.LinksLost == 1, "connected again");
        Assert.Equal(SequenceStage.Held, bench.Controller.Snapshot.Sequence!.Stage);
    }

    [Fact]
    public async Task A_device_that_restarts_in_a_pull_is_noticed_by_its_boot_number()
    {
        await using RigBench bench = await RigBench.InMidPullAsync();
        bench.Rig.Restart();
        RigSnapshot held = await bench.UntilStageAsync(SequenceStage.Held);
        Assert.Equal("deviceRestarted", held.Sequence!.Reason.Code);
        Assert.Equal(PullEnding.Interrupted, (await bench.RecordedAsync()).Ending);
        CommandResult resume = await bench.Controller.ResumeAsync();
        Assert.False(resume.Done);
        Assert.Contains(resume.Reasons, r => r.Code == "homeFirst");
    }

    [Fact]
    public async Task A_converter_that_repeats_one_value_in_a_pull_is_noticed_before_the_travel_ends()
    {
        await using RigBench bench = await RigBench.InMidPullAsync();
        bench.Rig.Inject(new VirtualFault.StuckConverter(TimeSpan.FromSeconds(60)));
        RigSnapshot held = await bench.UntilStageAsync(SequenceStage.Held);
        Assert.Contains("converter", held.Sequence!.Reason);
        await bench.UntilAsync(_ => !bench.Rig.IsMotorMoving, "standing");
        Assert.Equal(PullEnding.Interrupted, (await bench.RecordedAsync()).Ending);
    }

    [Fact]
    public async Task A_full_disk_lets_no_pull_start_and_a_failing_one_stops_it()
    {
        await using var bench = new RigBench(RigBench.Slow);
        bench.Journal.RefuseToBegin = true;
        await bench.BeginAsync(2);
        RigSnapshot held = await bench.UntilStageAsync(SequenceStage.Held);
        Assert.Contains("make room", held.Sequence!.Reason);
        Assert.Empty(bench.Recorder.Records);
        bench.Journal.RefuseToBegin = false;
        bench.Journal.FailAfterSamples = 200;
        Assert.True((await bench.Controller.ResumeAsync()).Done);
        PullRecord record = await bench.RecordedAsync();
        Assert.Equal(PullEnding.Interrupted, record.Ending);
        await bench.UntilStageAsync(SequenceStage.Held);
        Assert.True(record.Trace.Samples.Count > 200, "the record has what the disk has not");
    }

    [Fact]
    public async Task A_disk_that_does_not_keep_up_stops_the_pull()
    {
        await using var bench = new RigBench(RigBench.Slow with { SampleRateHertz = 2000 });
        using var disk = new ManualResetEventSlim();
        bench.Journal.Gate = disk;
        await bench.BeginAsync(1, RigBench.Quick with { SpeedMillimetresPerSecond = 0.02, SlackSpeedMillimetresPerSecond = 0.02 });
        RigSnapshot held = await bench.UntilStageAsync(SequenceStage.Held);
        Assert.Contains("disk is slower", held.Sequence!.Reason);
        await bench.UntilAsync(_ => !bench.Rig.IsMotorMoving, "standing");
        disk.Set();
        Assert.Equal(PullEnding.Interrupted, (await bench.RecordedAsync()).Ending);
    }

    [Fact]
    public async Task More_than_PullSamplesMax_samples_end_the_pull_and_those_are_kept()
    {
        Assert.Equal(PullRecording.SamplesMax, new RigControllerOptions().PullSamplesMax);
        // Fewer here than the bound, which would take minutes.
        const int Most = 300;
        await using var bench = new RigBench(
            RigBench.Slow with { SampleRateHertz = 1000 }, controller: new RigControllerOptions { PullSamplesMax = Most });
        await bench.BeginAsync(1, RigBench.Quick with { SpeedMillimetresPerSecond = 0.02, SlackSpeedMillimetresPerSecond = 0.02 });
        RigSnapshot held = await bench.UntilStageAsync(SequenceStage.Held);
        Assert.Contains("more samples than can be kept", held.Sequence!.Reason, StringComparison.Ordinal);
        await bench.UntilAsync(_ => !bench.Rig.IsMotorMoving, "standing");
        PullRecord record = await bench.RecordedAsync();
        Assert.Equal(PullEnding.Interrupted, record.Ending);
        Assert.True(record.Trace.Samples.Count > Most);
        Assert.Equal(record.Trace.Samples, bench.Journal.Captures[record.Head.RunId].Samples);
    }

    [Fact]
    public async Task A_run_that_could_not_be_stored_holds_the_sequence_and_is_stored_on_resuming()
    {
        await using var bench = new RigBench();
        bench.Recorder.FailNext(1);
        await bench.BeginAsync(2);
        RigSnapshot held = await bench.UntilStageAsync(SequenceStage.Held);
        Assert.Equal("runNotStored", held.Sequence!.Reason.Code);
        Assert.Empty(bench.Recorder.Records);
        Assert.True((await bench.Controller.ResumeAsync()).Done);
        await bench.UntilStageAsync(SequenceStage.Finished);
        Assert.Equal(["S1", "S2"], bench.Recorder.Records.Select(r => r.Head.SpecimenId));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Giving_up_a_run_that_could_not_be_stored_leaves_the_rig_usable(bool finish)
    {
        await using var bench = new RigBench();
        bench.Recorder.FailNext(1);
        await bench.BeginAsync(1);
        await bench.UntilStageAsync(SequenceStage.Held);
        // Skipping the last specimen ends the sequence as finishing does.
        Assert.True((finish ? await bench.Controller.FinishAsync() : await bench.Controller.SkipAsync()).Done);
        await bench.UntilStageAsync(SequenceStage.Finished);
        bench.Queue(1);
        CommandResult next = await bench.Controller.StartSequenceAsync(RigBench.PlanFor(1) with { SequenceId = "the next" });
        Assert.True(next.Done, next.Message);
        Assert.Empty(bench.Recorder.Records);
    }

    [Fact]
    public async Task Ending_the_program_in_a_pull_stops_the_crosshead_and_stores_the_run_as_interrupted()
    {
        RigBench bench = await RigBench.InMidPullAsync();
        await bench.Controller.DisposeAsync();
        PullRecord record = Assert.Single(bench.Recorder.Records);
        Assert.Equal(PullEnding.Interrupted, record.Ending);
        Assert.Equal(record.Trace.Samples, bench.Journal.Captures[record.Head.RunId].Samples);
        Assert.False(bench.Rig.IsMotorMoving);
        await bench.DisposeAsync();
    }

    [Fact]
    public async Task The_capture_holds_exactly_the_samples_of_the_run_in_order_without_gaps()
    {
        await using var bench = new RigBench();
        await bench.BeginAsync(1);
        await bench.UntilStageAsync(SequenceStage.Finished);
        PullRecord record = await bench.RecordedAsync();
        MemoryWriter capture = bench.Journal.Captures[record.Head.RunId];
        Assert.Equal(record.Trace.Samples, capture.Samples);
        Assert.Equal(PullEnding.Broken, capture.Ending);
        for (int i = 1; i < record.Trace.Samples.Count; i++)
            Assert.Equal(record.Trace.Samples[i - 1].Number + 1, record.Trace.Samples[i].Number);
        Assert.NotNull(record.ZeroReturnCounts);
        Assert.InRange(record.ZeroReturnCounts.Value - record.Head.ZeroCounts, -2000, 2000);
    }
}
