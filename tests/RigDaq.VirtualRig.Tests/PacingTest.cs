using Microsoft.Extensions.Time.Testing;
using RigDaq.Virtual.Machine;

namespace RigDaq.Virtual.Tests;

/// <summary>How rig time follows wall time.</summary>
public class PacingTest
{
    [Fact]
    public async Task Rig_time_is_wall_time_times_the_scale_and_a_late_look_lets_it_slip()
    {
        var wall = new FakeTimeProvider();
        await using var rig = new VirtualRig(new VirtualRigOptions { TimeScale = 10 }, wall);
        await PassAsync(wall, rig, TimeSpan.FromMilliseconds(5));
        Assert.Equal(0.05, rig.RigTime.TotalSeconds, 0.002);
        TimeSpan before = rig.RigTime;
        // A minute late: at most 50 ms of wall time are made good, never a burst of ten minutes.
        await PassAsync(wall, rig, TimeSpan.FromMinutes(1));
        Assert.Equal(0.5, (rig.RigTime - before).TotalSeconds, 0.01);
    }

    [Fact]
    public async Task A_stepped_rig_stands_still_by_itself_and_the_other_one_cannot_be_stepped()
    {
        var wall = new FakeTimeProvider();
        await using var stepped = new VirtualRig(new VirtualRigOptions { Stepped = true }, wall);
        wall.Advance(TimeSpan.FromSeconds(10));
        Assert.Equal(TimeSpan.Zero, stepped.RigTime);
        stepped.Advance(TimeSpan.FromSeconds(2));
        Assert.Equal(2, stepped.RigTime.TotalSeconds, 0.002);

        await using var paced = new VirtualRig(new VirtualRigOptions(), wall);
        Assert.Throws<InvalidOperationException>(() => paced.Advance(TimeSpan.FromSeconds(1)));
    }

    [Theory]
    [InlineData(9.9, 1)]
    [InlineData(10_001, 1)]
    [InlineData(320, 0)]
    [InlineData(320, double.NaN)]
    public void Figures_outside_their_range_are_named(double rate, double timeScale)
    {
        var options = new VirtualRigOptions { SampleRateHertz = rate, TimeScale = timeScale };
        ArgumentException refused = Assert.Throws<ArgumentException>(() => new VirtualRig(options, TimeProvider.System));
        Assert.Contains(rate == 320 ? "TimeScale" : "SampleRateHertz", refused.Message, StringComparison.Ordinal);
    }

    private static async Task PassAsync(FakeTimeProvider wall, VirtualRig rig, TimeSpan time)
    {
        TimeSpan before = rig.RigTime;
        wall.Advance(time);
        // The timer's task runs on the pool: wait, bounded, until it has seen the tick.
        for (int i = 0; i < 500 && rig.RigTime == before; i++) await Task.Delay(10, TestContext.Current.CancellationToken);
        Assert.NotEqual(before, rig.RigTime);
    }
}
