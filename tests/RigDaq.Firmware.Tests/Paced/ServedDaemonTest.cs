using System.Text.Json;

namespace RigDaq.Firmware.Tests.Paced;

/// <summary>
/// The real image behind a serial port of the system, paced to real time, with the true daemon at it: the cases that have no meaning in
/// lock step. Times are the simulated chip's, seen at its pins: a late test machine makes them later in wall time, not longer.
/// </summary>
public sealed class ServedDaemonTest
{
    /// <summary>500 ms after the last keep-alive, 520 at the latest (PROTOCOL.md 7).</summary>
    private const double PowerOffSecondsMax = 0.52;

    [Fact]
    public async Task A_daemon_that_goes_silent_in_mid_pull_has_its_motor_off_within_half_a_second()
    {
        await using ServedDaemon daemon = await ServedDaemon.StartAsync();
        await daemon.IntoMidPullAsync();
        double before = await SecondsAsync(daemon, "seconds");
        await daemon.Process.PauseAsync();
        double silent = await SecondsAsync(daemon, "seconds");
        JsonElement pins = await PinsAsync(daemon, p => p.GetProperty("powered").GetInt32() == 0);
        Assert.InRange(pins.GetProperty("powerOffSeconds").GetDouble(), before, silent + PowerOffSecondsMax);
        Assert.InRange(pins.GetProperty("lastStepSeconds").GetDouble(), before, silent + PowerOffSecondsMax);

        // It comes to itself: the pull is over, its run is kept, and nothing moves by itself.
        await daemon.Process.GoOnAsync();
        Assert.NotEqual("broken", await daemon.HeldAndStoredAsync());
        await daemon.UntilAsync(s => s.GetProperty("motion").GetString() == "still", "still");
        Assert.Equal(pins.GetProperty("steps").GetInt64(), (await daemon.Board.Look()).GetProperty("steps").GetInt64());
    }

    [Fact]
    public async Task A_main_loop_that_hangs_with_its_interrupts_is_restarted_by_the_watchdog_and_stands()
    {
        await using ServedDaemon daemon = await ServedDaemon.StartAsync();
        await daemon.IntoMidPullAsync();
        await daemon.Board.Ask("hang all");
        double hung = await SecondsAsync(daemon, "seconds");
        JsonElement pins = await PinsAsync(daemon, p => p.GetProperty("resets").GetInt32() == 1);
        // With its interrupts gone no step is made any more; the watchdog's time is 250 ms (ports/avr).
        Assert.True(pins.GetProperty("lastStepSeconds").GetDouble() <= hung);
        JsonElement state = await daemon
            .UntilAsync(s => s.GetProperty("faults").EnumerateArray()
            .Any(f => f.GetString()!.Contains("watchdog", StringComparison.Ordinal)), "told of the watchdog");
        Assert.Equal("up", state.GetProperty("link").GetString());
        Assert.NotEqual("broken", await daemon.HeldAndStoredAsync());
        Assert.Equal(pins.GetProperty("steps").GetInt64(), (await daemon.Board.Look()).GetProperty("steps").GetInt64());
    }

    [Fact]
    public async Task A_board_unplugged_in_mid_pull_is_missed_the_run_kept_and_the_board_found_again()
    {
        await using ServedDaemon daemon = await ServedDaemon.StartAsync();
        await daemon.IntoMidPullAsync();
        await daemon.UnplugAsync();
        Assert.Equal("interrupted", await daemon.HeldAndStoredAsync());
        await daemon.PlugInAsync();
        JsonElement state = await daemon.UntilAsync(s => s.GetProperty("link").GetString() == "up", "up again");
        Assert.Equal(1, state.GetProperty("linksLost").GetInt32());
        Assert.Equal("held", ServedDaemon.Sequence(state, "stage"));
        Assert.Equal(0, (await daemon.Board.Look()).GetProperty("steps").GetInt64());
    }

    [Fact]
    public async Task A_wrong_baud_rate_is_said_to_be_one()
    {
        await using ServedDaemon daemon = await ServedDaemon.StartAsync(115_200, "--check-baud");
        JsonElement seen = await daemon
            .UntilAsync(s => s.GetProperty("linkMessage").GetString()!.Contains("baud rate differs", StringComparison.Ordinal), "told");
        Assert.NotEqual("up", seen.GetProperty("link").GetString());
        (bool started, string words) = await daemon.Page.AskAsync("start", new { cautionsRead = true });
        Assert.False(started, words);
    }

    private static async Task<double> SecondsAsync(ServedDaemon daemon, string name)
        => (await daemon.Board.Look()).GetProperty(name).GetDouble();

    private static async Task<JsonElement> PinsAsync(ServedDaemon daemon, Func<JsonElement, bool> seen)
    {
        for (int i = 0; i < 1000; i++)
        {
            JsonElement pins = await daemon.Board.Look();
            if (seen(pins)) return pins;
            await Task.Delay(10, TestContext.Current.CancellationToken); // wall time: the board goes on by itself
        }

        throw new InvalidOperationException($"Not seen at the pins: {await daemon.Board.Look()}");
    }
}
