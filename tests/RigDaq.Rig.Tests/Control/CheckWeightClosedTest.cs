using System.Collections.Concurrent;
using RigDaq.Rig.Control;
using RigDaq.Rig.Tests.Support;

namespace RigDaq.Rig.Tests.Control;

/// <summary>The check weight fails closed: while its chart cannot be read nothing starts, and it is read again.</summary>
public sealed class CheckWeightClosedTest
{
    [Fact]
    public async Task A_chart_that_cannot_be_read_keeps_a_sequence_from_starting_until_it_can_be()
    {
        bool broken = true;
        var readings = new ConcurrentQueue<long>();
        await using var bench = new RigBench(RigBench.Near with { HasFeeder = false })
        {
            CheckWeight = () =>
            {
                readings.Enqueue(TimeProvider.System.GetTimestamp());
                return broken ? throw new IOException("the disk is away") : false;
            },
        };
        await bench.StartAsync();
        CommandResult refused = await bench.Controller.StartSequenceAsync(RigBench.PlanFor(1));
        Assert.Contains(refused.Reasons, r => r.Code == "checkWeightUnread");
        // Hand motion is no reason to look at a weight: the way out of the grips stays open.
        Assert.True((await bench.Controller.JogAsync(1)).Done);
        long[] failed = [.. readings];
        broken = false;
        await bench.UntilAsync(s => s.ReasonsAgainstMotion.All(r => r.Code != "checkWeightUnread"), "read again");
        // Again after its bound, and not sooner; a stamp is taken a moment before the loop notes it.
        Assert.True(TimeProvider.System.GetElapsedTime(failed[^1], readings.ElementAt(failed.Length)) >= ActiveCalibration.CheckWeightAgain
            - TimeSpan.FromMilliseconds(100));
        await bench.UntilAsync(s => s.Motion == Protocol.Messages.MotionState.Still, "still");
        Assert.True((await bench.Controller.StartSequenceAsync(RigBench.PlanFor(1))).Done);
    }

    [Fact]
    public async Task It_comes_with_the_calibration_that_it_is_judged_under()
    {
        await using var bench = new RigBench(RigBench.Near with { HasFeeder = false });
        await bench.StartAsync();
        bench.CheckWeight = () => true;
        Assert.True((await bench.Controller.SetCalibration(bench.Controller.Snapshot.Calibration)).Done);
        // No moment between the two in which a sequence could slip through.
        CommandResult refused = await bench.Controller.StartSequenceAsync(RigBench.PlanFor(1));
        Assert.Contains(refused.Reasons, r => r.Code == "checkWeightOutside");
    }
}
