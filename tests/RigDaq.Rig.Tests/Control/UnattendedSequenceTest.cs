using RigDaq.Core.Pulls;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Tests.Support;

namespace RigDaq.Rig.Tests.Control;

public sealed class UnattendedSequenceTest
{
    [Fact]
    public async Task Breaks_a_feeders_specimens_one_after_the_other_and_records_each_once()
    {
        await using var bench = new RigBench();
        bench.Queue(3);
        await bench.StartAsync();
        CommandResult begun = await bench.Controller.StartSequenceAsync(RigBench.PlanFor(3));
        Assert.True(begun.Done, begun.Message);
        RigSnapshot last = await bench.UntilAsync(s => s.Sequence?.Stage is SequenceStage.Finished or SequenceStage.Held, "finished");
        Assert.True(last.Sequence!.Stage == SequenceStage.Finished, last.Sequence.Reason);
        Assert.Equal(["S1", "S2", "S3"], bench.Recorder.Records.Select(r => r.Head.SpecimenId));
        Assert.All(bench.Recorder.Records, r => Assert.Equal(PullEnding.Broken, r.Ending));
        Assert.Equal(3, bench.Rig.PullsMade);
    }
}
