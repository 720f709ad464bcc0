using System.Globalization;
using Microsoft.Playwright;
using RigDaq.EndToEnd.Tests.Support;
using static Microsoft.Playwright.Assertions;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>The whole way: a virtual rig behind a serial port, the daemon in a process of its own, and a person's browser.</summary>
public sealed class LiveDemoTest(Browser browser) : IClassFixture<Browser>
{
    private const float Milliseconds = 60_000;
    private const int PressesMax = 8;
    private const float GoesOnWithinMilliseconds = 5_000;

    [Fact]
    public async Task The_trace_moves_a_break_is_counted_and_the_stop_is_obeyed()
    {
        Browser.RequireInstalled();
        using var folder = new TemporaryFolder();
        await using RunningDemo demo = await RunningDemo.StartAsync(folder.Path, "--breaks", "12", "--time-scale", "5");
        IPage page = await browser.OpenAsync(demo.Dashboard);
        await Expect(page.Locator("#count-broken")).Not.ToHaveTextAsync("0", new() { Timeout = Milliseconds });
        await Expect(page.Locator("#result .strength")).ToContainTextAsync("MPa");
        int broken = int.Parse(await page.Locator("#count-broken").InnerTextAsync(), CultureInfo.InvariantCulture);
        byte[] before = await page.Locator("#trace").ScreenshotAsync();
        await Expect(page.Locator("#count-broken")).ToHaveTextAsync($"{broken + 1}", new() { Timeout = Milliseconds });
        Assert.NotEqual(before, await page.Locator("#trace").ScreenshotAsync());

        await Expect(page.Locator("#stage")).ToHaveTextAsync("pulling", new() { Timeout = Milliseconds });
        await page.Keyboard.PressAsync("Escape");
        await Expect(page.Locator("#stage")).ToHaveTextAsync("held", new() { Timeout = Milliseconds });
        await Expect(page.Locator("#reason")).ToContainTextAsync("stop", new() { IgnoreCase = true });
        await Expect(page.Locator("#resume")).ToBeEnabledAsync();

        // The stop goes three ways; the slowest must have arrived, or it would hold again what is let go on.
        await Expect(page.Locator("#stop-answer")).Not.ToHaveTextAsync("Stop sent…");
        broken = int.Parse(await page.Locator("#count-broken").InnerTextAsync(), CultureInfo.InvariantCulture);
        await page.Locator("#skip").ClickAsync();
        for (int presses = 0; presses < PressesMax && await CountAsync(page) == broken; presses++)
        {
            // A stop is never ignored: a late copy may hold again what was let go on, and a person then presses once more.
            await page.WaitForTimeoutAsync(GoesOnWithinMilliseconds);
            if (await page.Locator("#stage").InnerTextAsync() is var stage && stage.Equals("held", StringComparison.OrdinalIgnoreCase))
                await page.Locator("#resume").ClickAsync();
        }

        Assert.True(await CountAsync(page) > broken, "It did not go on: " + await page.Locator("#reason").InnerTextAsync());
    }

    private static async Task<int> CountAsync(IPage page) =>
        int.Parse(await page.Locator("#count-broken").InnerTextAsync(), CultureInfo.InvariantCulture);
}
