using RigDaq.Core.Pulls;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Tests.Support;
using RigDaq.Virtual;

namespace RigDaq.Rig.Tests.Control;

public sealed class GuardedSequenceTest
{
    private static VirtualRigOptions ByHand => RigBench.Near with { HasFeeder = false };

    [Fact]
    public async Task Goes_on_by_itself_after_the_guard_has_opened_and_closed_and_the_delay_was_announced()
    {
        await using var bench = new RigBench(ByHand);
        await bench.StartAsync();
        Assert.True((await bench.Controller.StartSequenceAsync(RigBench.PlanFor(2))).Done);
        for (int i = 1; i <= 2; i++)
        {
            await bench.UntilAsync(s => s.Sequence is { Stage: SequenceStage.WaitingForSpecimen } q && q.Reason.Code == "openGuardAndPutIn",
                "asked for a specimen");
            bench.Rig.OpenGuard();
            if (i > 1) bench.Rig.RemoveSpecimen();
            bench.Rig.LoadSpecimen(RigBench.Specimen($"S{i}"));
            bench.Rig.CloseGuard();
            RigSnapshot announced = await bench.UntilAsync(s => s.Sequence?.PullAnnouncedFor is not null, "announced");
            Assert.Equal(SequenceStage.Ready, announced.Sequence!.Stage);
            Assert.Equal(MotionState.Still, announced.Motion);
            int expected = i;
            await bench.UntilAsync(_ => bench.Recorder.Records.Count == expected, "recorded");
        }

        await bench.UntilStageAsync(SequenceStage.Finished);
        Assert.All(bench.Recorder.Records, r => Assert.Equal(PullEnding.Broken, r.Ending));
    }

    [Fact]
    public async Task Does_not_start_on_a_rising_force_alone()
    {
        await using var bench = new RigBench(ByHand);
        await bench.StartAsync();
        Assert.True((await bench.Controller.StartSequenceAsync(RigBench.PlanFor(1))).Done);
        await bench.UntilAsync(s => s.Sequence?.Reason.Code == "openGuardAndPutIn", "asked for a specimen");
        // Fingers on the hook: 49 N appear, far above the preload, and stay.
        bench.Rig.HangMass(5, 9.81);
        await bench.UntilAsync(s => s.ForceNewtons > 40, "loaded");
        // Wall time: long enough, at 20 times the speed, for any pull to have begun.
        await Task.Delay(500, TestContext.Current.CancellationToken);
        Assert.Equal(SequenceStage.WaitingForSpecimen, bench.Controller.Snapshot.Sequence!.Stage);
        Assert.Empty(bench.Journal.Captures);
        Assert.False(bench.Rig.IsMotorMoving);
    }

    [Fact]
    public async Task Opening_the_guard_while_the_pull_is_announced_calls_it_off()
    {
        await using var bench = new RigBench(ByHand);
        await bench.StartAsync();
        Assert.True((await bench.Controller.StartSequenceAsync(RigBench.PlanFor(1))).Done);
        await bench.UntilAsync(s => s.Sequence?.Reason.Code == "openGuardAndPutIn", "asked for a specimen");
        bench.Rig.OpenGuard();
        bench.Rig.LoadSpecimen(RigBench.Specimen("S1"));
        bench.Rig.CloseGuard();
        await bench.UntilAsync(s => s.Sequence?.PullAnnouncedFor is not null, "announced");
        bench.Rig.OpenGuard();
        RigSnapshot off = await bench.UntilAsync(s => s.Sequence is { PullAnnouncedFor: null }, "called off");
        Assert.Equal(SequenceStage.WaitingForSpecimen, off.Sequence!.Stage);
        Assert.Empty(bench.Journal.Captures);
    }

    // Night 101497 of tools/nights.sh: the opening was heard by its event, the state of before said that it was closed, and the pull was
    // announced.
    [Fact]
    public async Task A_guard_whose_opening_was_heard_by_its_event_alone_counts_as_open_until_a_later_block_tells()
    {
        await using var bench = new RigBench(ByHand with { TimeScale = 1 });
        await bench.StartAsync();
        Assert.True((await bench.Controller.StartSequenceAsync(RigBench.PlanFor(1))).Done);
        await bench.UntilAsync(s => s.Sequence?.Reason.Code == "openGuardAndPutIn", "asked for a specimen");
        bench.Rig.Inject(new VirtualFault.LostBlocks(20));
        bench.Rig.OpenGuard();
        RigSnapshot heard = await bench.UntilAsync(s => s.Sequence is { } q && q.Reason.Code != "openGuardAndPutIn",
            "the opening was heard");
        Assert.Equal(SequenceStage.WaitingForSpecimen, heard.Sequence!.Stage);
        Assert.Null(heard.Sequence.PullAnnouncedFor);
        bench.Rig.LoadSpecimen(RigBench.Specimen("S1"));
        bench.Rig.CloseGuard();
        await bench.UntilAsync(s => s.Sequence?.PullAnnouncedFor is not null, "announced");
    }

    [Fact]
    public async Task Without_a_guard_input_a_person_confirms_each_pull()
    {
        await using var bench = new RigBench(RigBench.Near with { HasFeeder = false, HasGuard = false });
        await bench.StartAsync();
        Assert.True((await bench.Controller.StartSequenceAsync(RigBench.PlanFor(1))).Done);
        await bench.UntilAsync(s => s.Sequence?.NeedsConfirmation == true, "asked for confirmation");
        bench.Rig.LoadSpecimen(RigBench.Specimen("S1"));
        Assert.Empty(bench.Journal.Captures);
        Assert.True((await bench.Controller.ConfirmPullAsync()).Done);
        await bench.UntilStageAsync(SequenceStage.Finished);
        Assert.Equal(PullEnding.Broken, Assert.Single(bench.Recorder.Records).Ending);
        Assert.False((await bench.Controller.ConfirmPullAsync()).Done);
    }

    [Fact]
    public async Task Clamping_force_is_recorded_and_relieved_but_never_tared_away()
    {
        await using var bench = new RigBench(ByHand with { ClampNewtons = 30, TimeScale = 4 });
        await bench.StartAsync();
        Assert.True((await bench.Controller.StartSequenceAsync(RigBench.PlanFor(1))).Done);
        RigSnapshot zeroed = await bench.UntilAsync(s => s.Sequence?.Reason.Code == "openGuardAndPutIn", "asked for a specimen");
        bench.Rig.OpenGuard();
        bench.Rig.LoadSpecimen(RigBench.Specimen("S1") with { SlackMillimetres = 0 });
        bench.Rig.CloseGuard();
        await bench.UntilAsync(s => Math.Abs(s.Sequence?.ClampingForceNewtons ?? 0) > 10, "clamping force seen");
        await bench.UntilStageAsync(SequenceStage.Finished);
        PullRecord record = Assert.Single(bench.Recorder.Records);
        Assert.Equal(zeroed.ZeroCounts, record.Head.ZeroCounts);
        Assert.NotNull(record.Head.ClampingForceNewtons);
        Assert.InRange(Math.Abs(record.Head.ClampingForceNewtons.Value), 0, new PullSettings().PreloadNewtons);
    }
}
