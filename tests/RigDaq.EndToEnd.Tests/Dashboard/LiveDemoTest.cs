using Microsoft.Playwright;
using RigDaq.EndToEnd.Tests.Support;
using static Microsoft.Playwright.Assertions;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>The whole way: a virtual rig behind a serial port, the daemon in a process of its own, and a person's browser.</summary>
public sealed class LiveDemoTest(Browser browser) : IClassFixture<Browser>
{
    private const float Milliseconds = 60_000;

    [Fact]
    public async Task The_trace_moves_a_break_is_counted_and_the_stop_is_obeyed()
    {
        Browser.RequireInstalled();
        using var folder = new TemporaryFolder();
        await using RunningDemo demo = await RunningDemo.StartAsync(folder.Path, "--breaks", "12", "--time-scale", "5");
        IPage page = await browser.OpenAsync(demo.Dashboard);
        try
        {
            await WatchAndStopAsync(page, demo);
        }
        catch (PlaywrightException e)
        {
            // What the rig says is worth more than what the page lacks.
            Assert.Fail($"{e.Message.Split('\n')[0]} {await page.Locator("#stage").InnerTextAsync()}: {await page.Locator("#reason").InnerTextAsync()} {demo.Process.Errors}");
        }
    }

    private static async Task WatchAndStopAsync(IPage page, RunningDemo demo)
    {
        ILocator count = page.Locator("#count-broken");
        await Expect(count).Not.ToHaveTextAsync("0", new() { Timeout = Milliseconds });
        await Expect(page.Locator("#result .strength")).ToContainTextAsync("MPa");
        string broken = await count.InnerTextAsync();
        byte[] before = await page.Locator("#trace").ScreenshotAsync();
        await Expect(count).Not.ToHaveTextAsync(broken, new() { Timeout = Milliseconds });
        Assert.NotEqual(before, await page.Locator("#trace").ScreenshotAsync());

        await Expect(page.Locator("#stage")).ToHaveTextAsync("pulling", new() { Timeout = Milliseconds });
        await page.Keyboard.PressAsync("Escape");
        await Expect(page.Locator("#stage")).ToHaveTextAsync("held", new() { Timeout = Milliseconds });
        await Expect(page.Locator("#reason")).ToContainTextAsync("stop", new() { IgnoreCase = true });
        await Expect(page.Locator("#resume")).ToBeEnabledAsync();

        // One press lets it go on: to the next break, or, where the piece had yielded or broken as the stop came, until its force at rest
        // or its missing force is noticed. The stop went three ways under one id: a late copy must not hold again what was let go on.
        broken = await count.InnerTextAsync();
        await page.Locator("#resume").ClickAsync();
        await Expect(page.Locator($"#count-broken:not(:text-is('{broken}')), #reason:has-text('grips')").First)
            .ToBeVisibleAsync(new() { Timeout = Milliseconds });
        Assert.Equal(1, Count(demo.Process.Errors, "Stopped by a person"));
    }

    private static int Count(string text, string words) => text.Split(words).Length - 1;
}
