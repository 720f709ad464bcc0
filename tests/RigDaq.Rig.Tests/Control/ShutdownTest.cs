using RigDaq.Core.Pulls;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Tests.Support;

namespace RigDaq.Rig.Tests.Control;

/// <summary>Whoever asked something of the rig is answered when it ends.</summary>
public sealed class ShutdownTest
{
    private static readonly TimeSpan AnswerMax = TimeSpan.FromSeconds(10);

    [Fact]
    public async Task A_zero_that_is_still_looked_for_is_answered()
    {
        var bench = new RigBench(controller: new RigControllerOptions { HandMotion = new PullSettings { ZeroSeconds = 60 } });
        await bench.StartAsync();
        Task<CommandResult> zero = bench.Controller.TakeZeroAsync();
        await bench.DisposeAsync();
        Assert.False((await zero.WaitAsync(AnswerMax, TestContext.Current.CancellationToken)).Done);
    }

    [Fact]
    public async Task StoreAtEndMax_is_waited_for_a_run_that_is_being_stored_and_no_longer()
    {
        Assert.Equal(RigController.StoreAtEndMax, new RigControllerOptions().StoreAtEndMax);
        // Shorter here than the bound, in wall time: that it is waited, and that it ends.
        TimeSpan most = TimeSpan.FromMilliseconds(700);
        var bench = new RigBench(RigBench.Slow, controller: new RigControllerOptions { StoreAtEndMax = most });
        bench.Recorder.NeverEnds = true;
        await bench.BeginAsync(1);
        await bench.UntilStageAsync(SequenceStage.Pulling);
        long began = TimeProvider.System.GetTimestamp();
        await bench.Controller.DisposeAsync().AsTask().WaitAsync(RigController.StoreAtEndMax, TestContext.Current.CancellationToken);
        // A timer goes by a coarser clock than the one that is asked here, and may be some milliseconds early.
        TimeSpan waited = TimeProvider.System.GetElapsedTime(began);
        Assert.True(waited >= most - TimeSpan.FromMilliseconds(20), $"{waited.TotalMilliseconds} ms");
        Assert.False(bench.Rig.IsMotorMoving);
        // Not stored, and not lost: the capture has it.
        Assert.Empty(bench.Recorder.Records);
        Assert.NotEmpty(Assert.Single(bench.Journal.Captures).Value.Samples);
        await bench.DisposeAsync();
    }

    [Fact]
    public async Task Everything_that_is_asked_while_it_ends_is_answered()
    {
        var bench = new RigBench();
        await bench.StartAsync();
        using var over = new CancellationTokenSource();
        var asked = new List<Task<CommandResult>>();
        Task asking = Task.Run(
            async () =>
            {
                while (!over.IsCancellationRequested && asked.Count < 200_000)
                {
                    asked.Add(bench.Controller.SkipAsync());
                    // Some at once, but no more than the inbox holds.
                    if (asked.Count % 100 == 0) await asked[^1];
                }
            },
            TestContext.Current.CancellationToken);
        await bench.DisposeAsync();
        await over.CancelAsync();
        await asking;
        await Task.WhenAll(asked).WaitAsync(AnswerMax, TestContext.Current.CancellationToken);
        Assert.NotEmpty(asked);
    }
}
