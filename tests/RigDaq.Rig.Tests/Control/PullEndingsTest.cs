using RigDaq.Core.Pulls;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Tests.Support;

namespace RigDaq.Rig.Tests.Control;

public sealed class PullEndingsTest
{
    [Fact]
    public async Task A_partly_broken_specimen_and_one_that_slides_out_are_told_apart_and_the_sequence_goes_on()
    {
        await using var bench = new RigBench();
        bench.Rig.QueueSpecimens([
            RigBench.Specimen("S1") with { SlipOutShare = 0.6 },
            RigBench.Specimen("S2"),
            RigBench.Specimen("S3") with { PartialBreakShare = 0.25 }]);
        await bench.StartSequenceAsync(RigBench.PlanFor(3));
        await bench.UntilStageAsync(SequenceStage.Finished);
        Assert.Equal([PullEnding.SlippedOut, PullEnding.Broken, PullEnding.PartlyBroken], bench.Recorder.Records.Select(r => r.Ending));
    }

    [Fact]
    public async Task A_force_beyond_the_limit_is_an_overload_and_holds()
    {
        await using var bench = new RigBench();
        await bench.BeginAsync(1, RigBench.Quick with { ForceLimitNewtons = 150 });
        RigSnapshot held = await bench.UntilStageAsync(SequenceStage.Held);
        PullRecord record = await bench.RecordedAsync();
        Assert.Equal(PullEnding.Overload, record.Ending);
        Assert.False(bench.Rig.IsMotorMoving);
        Assert.Equal("overloaded", held.Sequence!.Reason.Code);
        // The way back: clear, resume, and the crosshead takes the load off.
        await bench.Controller.ClearFaultsAsync();
        await bench.UntilAsync(s => s.Faults == 0, "cleared");
        CommandResult resumed = await bench.Controller.ResumeAsync();
        Assert.True(resumed.Done, resumed.Message);
        await bench.UntilStageAsync(SequenceStage.Finished);
    }

    [Fact]
    public async Task A_specimen_that_holds_to_the_end_of_the_travel_is_unbroken()
    {
        await using var bench = new RigBench();
        await bench.BeginAsync(1, RigBench.Quick with { TravelLimitMillimetres = 0.25 });
        await bench.UntilStageAsync(SequenceStage.Held);
        Assert.Equal(PullEnding.Unbroken, (await bench.RecordedAsync()).Ending);
        // It was taken back first, so that nothing stays loaded.
        Assert.InRange(bench.Rig.TrueForceNewtons, -20, 20);
    }

    [Fact]
    public async Task A_specimen_that_was_never_gripped_is_no_contact_and_holds()
    {
        await using var bench = new RigBench();
        bench.Rig.QueueSpecimens([RigBench.Specimen("S1") with { SlackMillimetres = 5 }]);
        await bench.StartSequenceAsync(RigBench.PlanFor(1, RigBench.Quick with { TravelLimitMillimetres = 2 }));
        await bench.UntilStageAsync(SequenceStage.Held);
        Assert.Equal(PullEnding.NoContact, (await bench.RecordedAsync()).Ending);
    }

    [Fact]
    public async Task A_person_stops_a_pull_and_its_run_says_so()
    {
        await using RigBench bench = await RigBench.InMidPullAsync();
        Assert.True((await bench.Controller.StopAsync()).Done);
        await bench.UntilAsync(_ => !bench.Rig.IsMotorMoving, "standing");
        Assert.Equal(SequenceStage.Held, bench.Controller.Snapshot.Sequence!.Stage);
        Assert.Equal(PullEnding.Stopped, (await bench.RecordedAsync()).Ending);
    }

    [Fact]
    public async Task The_guard_opened_in_a_pull_stops_it_and_is_named()
    {
        await using RigBench bench = await RigBench.InMidPullAsync();
        bench.Rig.OpenGuard();
        RigSnapshot held = await bench.UntilStageAsync(SequenceStage.Held);
        Assert.Contains("guard", held.Sequence!.Reason);
        Assert.Equal(PullEnding.Stopped, (await bench.RecordedAsync()).Ending);
        CommandResult resume = await bench.Controller.ResumeAsync();
        Assert.False(resume.Done);
        Assert.Contains(resume.Reasons, r => r.Code == "faulted");
    }
}
