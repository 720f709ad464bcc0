using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Trace;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Tests.Support;
using RigDaq.Virtual;

namespace RigDaq.Rig.Tests.Control;

public sealed class TroubledSignalTest
{
    [Fact]
    public async Task Spikes_garbage_and_lost_blocks_in_a_pull_break_nothing_early_and_are_counted()
    {
        await using var bench = new RigBench(RigBench.Near with { TimeScale = 4 });
        bench.Queue(1);
        await bench.StartAsync();
        Assert.True((await bench.Controller.StartSequenceAsync(RigBench.PlanFor(1))).Done);
        await bench.UntilStageAsync(SequenceStage.Pulling);
        // 1,000 N each, far beyond the force limits: one alone is no overload, neither in the device nor here (PROTOCOL.md, 8).
        bench.Rig.Inject(new VirtualFault.Spikes(20, 4_000_000, 40));
        bench.Rig.Inject(new VirtualFault.Garbage(700));
        bench.Rig.Inject(new VirtualFault.LostBlocks(1));
        RigSnapshot last = await bench.UntilStageAsync(SequenceStage.Finished);
        PullRecord record = Assert.Single(bench.Recorder.Records);
        Assert.Equal(PullEnding.Broken, record.Ending);
        Assert.True(last.SamplesLost > 0 && last.FramesBad > 0);
        // Raw first: what was lost is a gap in the numbers, and the spikes are in the trace.
        long gaps = record.Trace.Samples.Zip(record.Trace.Samples.Skip(1), (a, b) => b.Number - a.Number - 1).Sum();
        Assert.Equal(last.SamplesLost, gaps);
        double strength = Assert.Single(bench.Rig.Breaks).PeakForceNewtons;
        Assert.InRange(strength, 399, 401);
    }

    [Fact]
    public void Looking_at_a_sample_allocates_nothing()
    {
        var curve = new ForceCurve([2.5e-4]);
        var signal = new SignalWatch { NoiseCounts = 100 };
        signal.Pull = new PullWatch(new BreakDetector(new DetectionSettings(), 0.03), curve, 0, 900, 1e9, new Nobody());
        RawSample[] samples = [.. Enumerable.Range(0, 4_000).Select(i => new RawSample(i, i * 1_000L, (i * 200) + (i % 7), i))];
        signal.Take(samples);
        long before = GC.GetAllocatedBytesForCurrentThread();
        signal.Take(samples);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    private sealed class Nobody : IPullWatcher
    {
        public void PreloadReached()
        {
        }

        public void Decided(DetectorState decision)
        {
        }

        public void ForceLimitPassed(double newtons)
        {
        }

        public void TimeOver()
        {
        }
    }
}
