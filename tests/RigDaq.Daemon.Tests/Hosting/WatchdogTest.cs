using Microsoft.Extensions.Time.Testing;
using RigDaq.Daemon.Hosting;
using RigDaq.Rig.Control;

namespace RigDaq.Daemon.Tests.Hosting;

/// <summary>The service manager hears that the control loop lives, by the loop's own snapshots and by nothing else. The variables are
/// those of sd_watchdog_enabled(3). What the manager does without a ping is shown by tools/package-life.sh.</summary>
public sealed class WatchdogTest
{
    [Theory]
    [InlineData("10000000", null, 10)]
    [InlineData("10000000", "", 10)]
    [InlineData("10000000", "42", 10)]
    [InlineData("10000000", "43", null)]
    [InlineData("0", null, null)]
    [InlineData("soon", null, null)]
    [InlineData(null, null, null)]
    public void The_window_is_what_the_manager_says_to_this_process(string? microseconds, string? process, int? seconds) =>
        Assert.Equal(seconds, (int?)Watchdog.WindowOf(microseconds, process, own: 42)?.TotalSeconds);

    [Fact]
    public void Snapshots_cause_pings_some_a_window_and_without_snapshots_there_are_none()
    {
        var time = new FakeTimeProvider();
        int pings = 0;
        var watchdog = new Watchdog(TimeSpan.FromSeconds(10), () => pings++, time);
        for (int i = 0; i < 200; i++)
        {
            watchdog.Show(RigSnapshot.Nothing);
            time.Advance(TimeSpan.FromMilliseconds(50));
        }

        Assert.Equal(Watchdog.PingsAWindow, pings);
        // The loop hangs: time goes on, and nobody pings for it.
        time.Advance(TimeSpan.FromMinutes(1));
        Assert.Equal(Watchdog.PingsAWindow, pings);
    }

    [Fact]
    public void Without_a_service_manager_nothing_is_begun() => Assert.Null(Watchdog.Start(null!, null, _ => { }));
}
