using Microsoft.Extensions.Time.Testing;
using RigDaq.Daemon.Hosting;

namespace RigDaq.Daemon.Tests.Hosting;

/// <summary>What is ended together is ended whole, whatever one part throws.</summary>
public sealed class EndTogetherTest
{
    [Fact]
    public async Task A_part_that_throws_is_said_and_the_ones_behind_it_are_ended()
    {
        var ended = new List<string>();
        var said = new List<string>();
        var parts = new EndTogether();
        parts.Add("the archive", new Part(() => ended.Add("archive")));
        parts.Add("what is published", () => throw new InvalidOperationException("the pump had failed"));
        // A part that never ends: waited for by the test's own clock, not in wall time.
        parts.Add("the rig", new Part(() => ended.Add("rig")));
        await parts.EndAsync(words => said.Add(words));
        Assert.Equal(["rig", "archive"], ended);
        Assert.Equal("Ending what is published failed: the pump had failed. The rest was ended.", Assert.Single(said));
        await parts.EndAsync(words => said.Add(words));
        Assert.Equal(2, ended.Count);
    }

    [Fact]
    public async Task A_part_is_waited_for_PartMax_and_no_longer()
    {
        var time = new FakeTimeProvider();
        var said = new List<string>();
        var parts = new EndTogether(time);
        parts.Add("the rig", () => new ValueTask(Task.Delay(Timeout.Infinite, TestContext.Current.CancellationToken)));
        Task ending = parts.EndAsync(words => said.Add(words));
        time.Advance(EndTogether.PartMax - TimeSpan.FromMilliseconds(1));
        Assert.False(ending.IsCompleted);
        time.Advance(TimeSpan.FromMilliseconds(1));
        await ending.WaitAsync(TimeSpan.FromSeconds(30), TestContext.Current.CancellationToken);
        Assert.Contains("the rig", Assert.Single(said), StringComparison.Ordinal);
    }

    private sealed class Part(Action end) : IDisposable
    {
        public void Dispose() => end();
    }
}
