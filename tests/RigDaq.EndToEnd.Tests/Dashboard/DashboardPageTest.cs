using Microsoft.Playwright;
using RigDaq.Core.Runs;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;
using static Microsoft.Playwright.Assertions;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>What a person sees and can do, in a real browser.</summary>
public sealed class DashboardPageTest(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    public ValueTask InitializeAsync() => ValueTask.CompletedTask;

    public async ValueTask DisposeAsync() => await browser.CloseAllAsync();

    [Fact]
    public async Task The_trace_moves_and_the_number_follows()
    {
        await using PageHost host = await PageHost.StartAsync();
        IPage page = await browser.OpenAsync(host.KeyedUrl);
        await Expect(page.Locator("#chip-link")).ToContainTextAsync("bench rig");
        byte[] before = await page.Locator("#trace").ScreenshotAsync();
        host.Rig.Load();
        await Expect(page.Locator("#force")).ToHaveTextAsync(new System.Text.RegularExpressions.Regex("^[1-9][0-9]{2}"));
        byte[] after = await page.Locator("#trace").ScreenshotAsync();
        Assert.NotEqual(before, after);
        Assert.True(await InkAsync(page) > 500, "The trace has been drawn.");
    }

    [Fact]
    public async Task A_break_is_counted_and_its_result_shown_with_its_uncertainty()
    {
        await using PageHost host = await PageHost.StartAsync();
        SequencePlan plan = host.Data.NextPlan()!;
        host.Rig.Set(s => s with { Sequence = FakeData.Sequence(plan, SequenceStage.Pulling, done: 4) });
        IPage page = await browser.OpenAsync(host.KeyedUrl);
        await Expect(page.Locator("#stage")).ToHaveTextAsync("pulling");
        await Expect(page.Locator("#count-broken")).ToHaveTextAsync("3"); // One of the four slipped out.

        host.Rig.Set(s => s with
        {
            Sequence = FakeData.Sequence(plan, SequenceStage.Returning, done: 5),
            LastRun = FakeData.Run(plan.SpecimenIds[4])
        });

        await Expect(page.Locator("#count-broken")).ToHaveTextAsync("4");
        await Expect(page.Locator("#stage")).ToHaveTextAsync("returning");
        await Expect(page.Locator("#result")).ToContainTextAsync("51.0 ± 0.7\u202fMPa");
        await Expect(page.Locator("#queue li.now")).ToContainTextAsync(plan.SpecimenIds[5]);
    }

    [Fact]
    public async Task The_stop_is_obeyed_by_button_and_by_keys_and_needs_no_key_of_the_start()
    {
        await using PageHost host = await PageHost.StartAsync();
        IPage page = await browser.OpenAsync(host.Url); // Without the key.
        await Expect(page.Locator("#banner-key")).ToBeVisibleAsync();
        foreach (Func<Task> press in (Func<Task>[])[
            () => page.Locator("#stop").ClickAsync(), () => page.Keyboard.PressAsync("Escape"), () => page.Keyboard.PressAsync("Space")])
        {
            host.Rig.Calls.Clear();
            await press();
            await WaitAsync(() => host.Rig.Calls.Contains("stop"));
            await Expect(page.Locator("#stop-answer")).ToHaveTextAsync("Stopped.");
            await page.WaitForTimeoutAsync(350); // Two presses within a third of a second are one.
            Assert.Equal(["stop"], host.Rig.Calls); // By three ways, and one stop.
            await page.EvaluateAsync("document.activeElement?.blur()");
        }
    }

    [Fact]
    public async Task The_stop_stays_in_view_at_every_width_and_while_the_cautions_are_open()
    {
        await using PageHost host = await PageHost.StartAsync();
        foreach ((int width, int height) in ((int, int)[])[(360, 640), (768, 1024), (1440, 900), (3840, 2160)])
        {
            IPage page = await browser.OpenAsync(host.KeyedUrl, width, height);
            await page.Locator("#start").ClickAsync();
            await Expect(page.Locator("#cautions")).ToBeVisibleAsync();
            await page.EvaluateAsync("window.scrollTo(0, document.body.scrollHeight)");
            await Expect(page.Locator("#stop")).ToBeInViewportAsync(new() { Ratio = 1 });
            Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth")); // Nothing sticks out sideways.
            host.Rig.Calls.Clear();
            await page.Locator("#stop").ClickAsync();
            await WaitAsync(() => host.Rig.Calls.Contains("stop"));
            await page.Context.CloseAsync();
        }
    }

    [Fact]
    public async Task The_stop_is_obeyed_while_the_browser_waits_for_more_requests_than_it_can_have()
    {
        await using PageHost host = await PageHost.StartAsync();
        var held = new TaskCompletionSource();
        host.Rig.HomingHeldUp = held.Task;
        IPage page = await browser.OpenAsync(host.KeyedUrl);
        await Expect(page.Locator("#chip-link")).ToContainTextAsync("bench rig");
        await page.EvaluateAsync("() => { for (let i = 0; i < 12; i++) fetch('/api/v1/rigs/-/home', { method: 'POST' }); }");
        await page.Keyboard.PressAsync("Escape");
        await WaitAsync(() => host.Rig.Calls.Contains("stop"));
        Assert.DoesNotContain("home", host.Rig.Calls);
        held.SetResult();
    }

    [Fact]
    public async Task The_stop_works_without_scripts()
    {
        await using PageHost host = await PageHost.StartAsync();
        IPage page = await browser.OpenAsync(host.Url);
        await page.RouteAsync("**/*.js", route => route.AbortAsync());
        await page.ReloadAsync();
        await page.Locator("#stop").FocusAsync();
        await page.Keyboard.PressAsync("Enter"); // Does not wait for a new page: "no content" never becomes one.
        await WaitAsync(() => host.Rig.Calls.Contains("stop"));
        Assert.Equal(host.Url.ToString(), page.Url);
    }

    [Fact]
    public async Task A_sequence_starts_only_after_the_cautions_were_ticked()
    {
        await using PageHost host = await PageHost.StartAsync();
        IPage page = await browser.OpenAsync(host.KeyedUrl);
        Assert.DoesNotContain("key=", page.Url, StringComparison.Ordinal);
        await page.Locator("#start").ClickAsync();
        await Expect(page.Locator("#caution-list")).ToContainTextAsync("Pinch and crush points");
        await Expect(page.Locator("#caution-list")).ToContainTextAsync("eye protection");
        await page.Locator("#cautions-go").ClickAsync();
        await Expect(page.Locator("#cautions")).ToBeVisibleAsync(); // The tick is required.
        Assert.DoesNotContain(host.Rig.Calls, c => c.StartsWith("start", StringComparison.Ordinal));

        await page.Locator("#cautions-read").CheckAsync();
        await page.Locator("#beyond").CheckAsync(); // The fake's calibration ends at 490 N, below the limit of 900 N.
        await page.Locator("#cautions-go").ClickAsync();
        await Expect(page.Locator("#answer")).ToHaveTextAsync("The sequence has begun.");
        Assert.Equal(["acknowledge sequence-1", "start 36 beyond=True"], host.Rig.Calls);
    }

    [Fact]
    public async Task A_page_without_the_key_offers_no_motion()
    {
        await using PageHost host = await PageHost.StartAsync();
        IPage page = await browser.OpenAsync(host.Url);
        await Expect(page.Locator("#start")).ToBeDisabledAsync();
    }

    [Fact]
    public async Task A_jog_lives_only_while_it_is_held()
    {
        await using PageHost host = await PageHost.StartAsync();
        IPage page = await browser.OpenAsync(host.KeyedUrl);
        await page.Locator("#jog-apart").ClickAsync(); // Asks for the cautions first.
        await page.Locator("#cautions-read").CheckAsync();
        await page.Locator("#cautions-go").ClickAsync();
        await Expect(page.Locator("#hand-answer")).ToHaveTextAsync("Acknowledged.");
        Assert.DoesNotContain(host.Rig.Calls, c => c.StartsWith("jog 1", StringComparison.Ordinal));

        await page.Locator("#jog-apart").FocusAsync();
        await page.Keyboard.DownAsync("Enter");
        await WaitAsync(() => host.Rig.Calls.Count(c => c == "jog 1") >= 3); // Renewed while it is held.
        await page.Keyboard.UpAsync("Enter");
        await WaitAsync(() => host.Rig.Calls.Last() == "jog 0");

        await page.Keyboard.DownAsync("Enter");
        await WaitAsync(() => host.Rig.Calls.Last() == "jog 1");
        await page.EvaluateAsync("window.dispatchEvent(new Event('blur'))");
        await WaitAsync(() => host.Rig.Calls.Last() == "jog 0");
        await page.Keyboard.UpAsync("Enter");

        await page.Keyboard.DownAsync("Enter");
        await WaitAsync(() => host.Rig.Calls.Last() == "jog 1");
        await page.Context.CloseAsync(); // The page dies with the button held.
        await WaitAsync(() => host.Rig.Calls.Last() == "jog 0");
    }

    [Fact]
    public async Task A_daemon_that_is_not_heard_is_said_and_comes_back_by_itself()
    {
        await using PageHost host = await PageHost.StartAsync();
        IPage page = await browser.OpenAsync(host.KeyedUrl);
        await Expect(page.Locator("#force")).Not.ToHaveTextAsync("–");
        await host.DisposeAsync();
        await Expect(page.Locator("#banner-late")).ToBeVisibleAsync();
        await page.Locator("#stop").ClickAsync();
        await Expect(page.Locator("#stop-answer")).ToContainTextAsync("Press the emergency stop");

        await using PageHost again = await PageHost.StartAsync(port: host.Url.Port);
        await Expect(page.Locator("#banner-late")).ToHaveCountAsync(0);
        await Expect(page.Locator("#banner-key")).ToBeVisibleAsync(); // The key was of the other start.
    }

    [Theory]
    [InlineData(1440, ColorScheme.Light)]
    [InlineData(1440, ColorScheme.Dark)]
    [InlineData(360, ColorScheme.Light)]
    public async Task No_serious_fault_of_accessibility_is_found(int width, ColorScheme scheme)
    {
        await using PageHost host = await PageHost.StartAsync();
        SequencePlan plan = host.Data.NextPlan()!;
        IPage page = await browser.OpenAsync(host.KeyedUrl, width, 900, scheme, reducedMotion: true);
        foreach (SequenceStage stage in Enum.GetValues<SequenceStage>())
        {
            host.Rig.Set(s => s with
            {
                Sequence = FakeData.Sequence(plan, stage, done: 4),
                LastRun = FakeData.Run("P1-05"),
                FaultWords = stage == SequenceStage.Held ? [Sentence.Verbatim("The guard was opened: close it.")] : [],
                Faults = stage == SequenceStage.Held ? DeviceFaults.GuardOpened : DeviceFaults.None,
            });
            await Expect(page.Locator("#stage")).ToHaveTextAsync(stage.Word());
            if (stage == SequenceStage.Finished) await page.Locator("#start").ClickAsync(); // With the cautions open.
            Assert.Empty((await page.FaultsAsync()).Select(fault => $"{stage}: {fault}"));
        }
    }

    private static Task<int> InkAsync(IPage page) => page.EvaluateAsync<int>("""
        () => { const c = document.getElementById('trace'), d = c.getContext('2d').getImageData(0, 0, c.width, c.height).data;
          let n = 0; for (let i = 0; i < d.length; i += 4) if (d[i + 3] > 0 && d[i + 2] > d[i] + 60) n++; return n; }
        """);

    private static async Task WaitAsync(Func<bool> condition)
    {
        // A real browser talks to a real socket: wall time, bounded.
        for (int i = 0; i < 500 && !condition(); i++) await Task.Delay(10, TestContext.Current.CancellationToken);
        Assert.True(condition());
    }
}
