using RigDaq.Core.Pulls;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Tests.Support;
using RigDaq.Virtual;

namespace RigDaq.Rig.Tests.Control;

/// <summary>No zero holds the force of a piece that joins the grips, whatever happened to the pull before: the virtual rig knows the true
/// force.</summary>
public sealed class ZeroWithAPieceTest
{
    [Fact]
    public async Task A_piece_that_a_lost_link_left_in_a_feeders_grips_is_pulled_again_from_the_zero_of_before_and_both_is_said()
    {
        // With an open-loop drive a cut of its power costs it its home, and nobody homes with a piece in the grips.
        await using var bench = new RigBench(RigBench.Slow with { ClosedLoop = true });
        // So slow that it does not break in the 500 ms of wall time in which the device misses its keep-alive.
        await bench.BeginAsync(1, RigBench.Quick with { SpeedMillimetresPerSecond = 0.02 });
        await bench.UntilAsync(s => s.Sequence?.Stage == SequenceStage.Pulling && s.ForceNewtons > 30, "in mid-pull");
        bench.Rig.Inject(new VirtualFault.Unplug(TimeSpan.FromSeconds(1)));
        await bench.UntilStageAsync(SequenceStage.Held);
        await bench.UntilAsync(s => s.Link == LinkStage.Up && s.LinksLost == 1 && s.Counts is not null, "connected again");
        Assert.True(bench.Rig.TrueForceNewtons > 20, "the piece is under load");

        // Taring it away is refused: the next pull would be measured from there.
        CommandResult zero = await bench.Controller.TakeZeroAsync();
        Assert.Equal("heldKeepsZero", zero.Message.Code);
        await bench.Controller.ClearFaultsAsync();
        await bench.UntilAsync(s => s.Faults == 0, "cleared");
        CommandResult resumed = await bench.Controller.ResumeAsync();
        Assert.True(resumed.Done, resumed.Message);
        await bench.UntilAsync(s => s.Sequence?.Stage is SequenceStage.Finished || bench.Recorder.Records.Count == 2, "pulled again");
        PullRecord[] records = [.. bench.Recorder.Records];
        Assert.Equal([PullEnding.Interrupted, PullEnding.Broken], records.Select(r => r.Ending));
        Assert.Equal(records[0].Head.ZeroCounts, records[1].Head.ZeroCounts);
        Assert.Equal((1, 1), (records[1].Head.PullsSinceZero, records[1].Head.EarlierPulls));

        // 0.1 N is 400 counts of this cell, and three standard deviations of its single samples.
        Assert.InRange(records[1].Head.ZeroCounts, bench.Rig.Options.ZeroCounts - 400, bench.Rig.Options.ZeroCounts + 400);
    }

    [Fact]
    public async Task The_next_zero_is_taken_before_the_crosshead_goes_back_and_the_halves_may_push_at_each_other()
    {
        await using var bench = new RigBench();
        await bench.BeginAsync(2);
        RigSnapshot apart = await bench
            .UntilAsync(s => s.Sequence?.Reason.Code == "takingZeroApart", "zero apart");
        Assert.True(apart.PositionMillimetres > 1, "the crosshead has not gone back");
        await bench.UntilStageAsync(SequenceStage.Finished);
        Assert.All(bench.Recorder.Records, r => Assert.Equal(0, r.Head.PullsSinceZero));
    }
}
