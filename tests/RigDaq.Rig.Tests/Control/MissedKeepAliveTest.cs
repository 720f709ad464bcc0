using RigDaq.Core.Pulls;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Tests.Support;

namespace RigDaq.Rig.Tests.Control;

/// <summary>A keep-alive that was missed while nothing moved is no reason to call a person.</summary>
public sealed class MissedKeepAliveTest
{
    [Fact]
    public async Task Every_motion_goes_out_right_behind_a_keep_alive()
    {
        await using var bench = new RigBench();
        await bench.BeginAsync(2);
        await bench.UntilStageAsync(SequenceStage.Finished);
        IReadOnlyList<MessageType> sent = bench.Line.Types;
        int motions = 0;
        for (int i = 1; i < sent.Count; i++)
        {
            if (sent[i] is not (MessageType.Move or MessageType.Feed or MessageType.Home)) continue;
            // A command that was not answered in time is repeated without one: the one before it was.
            if (sent[i - 1] != MessageType.KeepAlive) continue;
            motions++;
        }

        int different = sent.Where((type, i) => type is MessageType.Move or MessageType.Feed or MessageType.Home && sent[i - 1] != type)
            .Count();
        Assert.Equal(different, motions);
        Assert.True(motions > 6);
    }

    [Fact]
    public async Task A_motion_that_was_refused_for_want_of_one_is_sent_again_by_itself()
    {
        await using var bench = new RigBench();
        bench.Queue(1);
        await bench.StartAsync();
        int refusals = 0;
        // The line loses keep-alives until the device has refused the first feed.
        bench.Line.IsLost = type =>
        {
            if (type == MessageType.Feed) refusals++;
            return type == MessageType.KeepAlive && refusals < 2;
        };
        Assert.True((await bench.Controller.StartSequenceAsync(RigBench.PlanFor(1, RigBench.Quick with { ZeroSeconds = 20 }))).Done);
        RigSnapshot end = await bench.UntilAsync(s => s.Sequence?.Stage is SequenceStage.Finished or SequenceStage.Held, "ended");
        Assert.True(end.Sequence!.Stage == SequenceStage.Finished, end.Sequence.Reason);
        Assert.True(refusals >= 2);
        Assert.Equal(PullEnding.Broken, Assert.Single(bench.Recorder.Records).Ending);
    }

    [Fact]
    public async Task It_is_not_sent_again_for_ever()
    {
        await using var bench = new RigBench();
        bench.Queue(1);
        await bench.StartAsync();
        bench.Line.IsLost = type => type == MessageType.KeepAlive;
        Assert.True((await bench.Controller.StartSequenceAsync(RigBench.PlanFor(1, RigBench.Quick with { ZeroSeconds = 20 }))).Done);
        RigSnapshot held = await bench.UntilStageAsync(SequenceStage.Held);
        Assert.Contains("keep-alive", held.Sequence!.Reason);
        Assert.Equal(1 + SequenceRunner.KeepAliveTriesMax, bench.Line.Types.Count(type => type == MessageType.Feed));
    }
}
