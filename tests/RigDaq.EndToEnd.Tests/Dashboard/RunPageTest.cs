using Microsoft.Playwright;
using RigDaq.Core.Runs;
using static Microsoft.Playwright.Assertions;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>A person looks at the piece first, then at its strength, and corrects by keyboard alone.</summary>
public sealed class RunPageTest(Browser browser) : IClassFixture<Browser>
{
    [Theory]
    [InlineData(1440, ColorScheme.Light)]
    [InlineData(360, ColorScheme.Dark)]
    public async Task The_strength_is_covered_until_the_piece_was_looked_at_and_every_correction_can_be_reversed(int width,
        ColorScheme scheme)
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        StoredRun.Store(host);
        IPage page = await browser.OpenAsync(new Uri(host.KeyedUrl.ToString().Replace("/#", "/run.html#", StringComparison.Ordinal)), width,
            900, scheme);
        Assert.Empty(await page.FaultsAsync());
        await page.Locator("#list a").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#title")).ToContainTextAsync(StoredRun.Specimen);
        await Expect(page.Locator("#cover")).ToBeVisibleAsync();
        await Expect(page.Locator("#strength")).ToBeHiddenAsync();
        Assert.Empty(await page.FaultsAsync());

        // By keyboard: failed at a grip.
        await page.Locator("#location").FocusAsync();
        await page.Keyboard.TypeAsync("at a grip");
        await page.Keyboard.PressAsync("Tab");
        await page.Keyboard.TypeAsync("12");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#answer")).ToContainTextAsync("revision 1");
        await Expect(page.Locator("#strength")).ToContainTextAsync("MPa");
        await Expect(page.Locator("#trace")).ToHaveJSPropertyAsync("complete", true);
        Assert.True(await page.Locator("#trace").EvaluateAsync<int>("picture => picture.naturalWidth") > 100);
        Assert.Equal(FractureLocation.AtGrip, host.Runs.Find(StoredRun.Id)!.Look!.Location);

        await page.Locator("#kind").SelectOptionAsync("grip-failure");
        await page.Locator("#void-text").FillAsync("broke at the lower grip");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#voided")).ToContainTextAsync("broke at the lower grip");
        await Expect(page.Locator("#revisions li")).ToHaveCountAsync(3);

        await page.Locator("#back-text").FillAsync("the marks are of the saw");
        await page.Locator("#revisions button").First.ClickAsync();
        await Expect(page.Locator("#voided")).ToBeHiddenAsync();
        Assert.Equal(3, host.Runs.Find(StoredRun.Id)!.Revision);

        await page.Locator("#photo")
            .SetInputFilesAsync(new FilePayload
            {
                Name = "piece.png",
                MimeType = "image/png",
                Buffer = await page.Locator("#title").ScreenshotAsync(new() { Type = ScreenshotType.Png })
            });
        await Expect(page.Locator("#photo-shown")).ToBeVisibleAsync();
        Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        Assert.Empty(await page.FaultsAsync());
        if (Environment.GetEnvironmentVariable("RIGDAQ_PICTURES") is { Length: > 0 } folder)
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, $"run-{width}.png"), FullPage = true });
    }

    [Theory]
    [InlineData(1440, ColorScheme.Light)]
    [InlineData(360, ColorScheme.Dark)]
    public async Task What_was_measured_besides_the_force_is_chosen_and_drawn_below_it(int width, ColorScheme scheme)
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        Run run = StoredRun.Store(host, channels: true);
        Assert.Equal(2000, run.Reading!.Gauge!.InitialSlopeNewtonsPerMillimetre!.Value, 20.0);
        IPage page = await browser
            .OpenAsync(new Uri(host.KeyedUrl.ToString().Replace("/#", $"/run.html?run={StoredRun.Id}#", StringComparison.Ordinal)), width,
            900, scheme);
        await page.Locator("#uncover").ClickAsync();
        await Expect(page.Locator("#channels-box")).ToBeVisibleAsync();
        await Expect(page.Locator("#reading")).ToContainTextAsync("Gauge extension, peak");
        await Expect(page.Locator("#channel option"))
            .ToHaveTextAsync(["Stress over Extensometer", "Extensometer, over time", "temperature, over time"]);
        foreach (string choice in new[] { "0", "1", "2" })
        {
            await page.Locator("#channel").SelectOptionAsync(choice);
            await Expect(page.Locator("#channel-picture"))
                .ToHaveAttributeAsync("src", new System.Text.RegularExpressions.Regex($"over={(choice == "0" ? "extension" : "time")}$"));
            await Expect(page.Locator("#channel-picture")).ToHaveJSPropertyAsync("complete", true);
            Assert.True(await page.Locator("#channel-picture").EvaluateAsync<int>("picture => picture.naturalWidth") > 100, choice);
            if (Environment.GetEnvironmentVariable("RIGDAQ_PICTURES") is { Length: > 0 } folder)
                await page.ScreenshotAsync(new PageScreenshotOptions
                {
                    Path = Path.Combine(folder, $"channel-{width}-{choice}.png"),
                    FullPage = true
                });
        }

        Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        Assert.Empty(await page.FaultsAsync());
    }

    [Fact]
    public async Task A_run_without_channels_shows_none()
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        StoredRun.Store(host);
        IPage page = await browser
            .OpenAsync(new Uri(host.KeyedUrl.ToString().Replace("/#", $"/run.html?run={StoredRun.Id}#", StringComparison.Ordinal)), 1440,
            900, ColorScheme.Light);
        await page.Locator("#uncover").ClickAsync();
        await Expect(page.Locator("#trace")).ToBeVisibleAsync();
        await Expect(page.Locator("#channels-box")).ToBeHiddenAsync();
    }

    [Fact]
    public async Task The_choice_to_see_strengths_first_is_remembered_and_a_page_without_the_key_changes_nothing()
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        StoredRun.Store(host);
        IPage page = await browser.OpenAsync(new Uri(host.Url, "/run.html?run=" + StoredRun.Id));
        await Expect(page.Locator("#void-go")).ToBeDisabledAsync();
        await page.Locator("#always").CheckAsync();
        await Expect(page.Locator("#strength")).ToBeVisibleAsync();
        await page.ReloadAsync();
        await Expect(page.Locator("#strength")).ToBeVisibleAsync();
    }
}
