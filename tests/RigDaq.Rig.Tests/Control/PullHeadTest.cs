using RigDaq.Core.Pulls;
using RigDaq.Rig.Control;
using RigDaq.Rig.Tests.Support;

namespace RigDaq.Rig.Tests.Control;

/// <summary>What was known when a pull began is kept with it: later changes of the configuration alter no run of before.</summary>
public sealed class PullHeadTest
{
    [Fact]
    public async Task A_pull_keeps_what_was_known_of_caliper_alignment_and_converter()
    {
        var known = new BenchInputs { CaliperErrorMillimetres = 0.03, BendingPercent = 2 };
        await using var bench = new RigBench(controller: new RigControllerOptions { Bench = known, ConverterDelaySeconds = 0.025 });
        await bench.BeginAsync(1);
        PullRecord record = await bench.RecordedAsync();
        Assert.Equal(known, record.Head.Bench);
        Assert.Equal(0.025, record.Head.ConverterDelaySeconds);
        Assert.Equal(0.025, record.Trace.ConverterDelaySeconds);
    }
}
