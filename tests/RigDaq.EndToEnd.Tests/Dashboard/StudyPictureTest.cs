using Microsoft.Playwright;
using RigDaq.EndToEnd.Tests.Support;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>Pictures of the page of studies with the demo's data, for a person to look at; made only where RIGDAQ_PICTURES names a
/// folder.</summary>
public sealed class StudyPictureTest(Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task Pictures_of_the_studies_of_the_demo()
    {
        string? folder = Environment.GetEnvironmentVariable("RIGDAQ_PICTURES");
        Assert.SkipWhen(string.IsNullOrEmpty(folder), "RIGDAQ_PICTURES names no folder.");
        using var data = new TemporaryFolder();
        // An earlier demo, so that there is more than one.
        await using (RunningDemo earlier = await RunningDemo.StartAsync(data.Path, "--breaks", "6", "--time-scale", "20"))
        {
            IPage page = await browser.OpenAsync(earlier.Dashboard);
            await Assertions.Expect(page.Locator("#count-broken")).ToHaveTextAsync("6", new() { Timeout = 120_000 });
        }

        await using RunningDemo demo = await RunningDemo.StartAsync(data.Path, "--breaks", "36", "--time-scale", "20");
        IPage watched = await browser.OpenAsync(demo.Dashboard);
        await Assertions.Expect(watched.Locator("#count-broken")).ToHaveTextAsync("3", new() { Timeout = 120_000 });
        foreach ((string name, int width, ColorScheme scheme) in ((string, int, ColorScheme)[])[
            ("desk-light", 1440, ColorScheme.Light), ("desk-dark", 1440, ColorScheme.Dark), ("phone-light", 390, ColorScheme.Light),
                ("phone-dark", 390, ColorScheme.Dark)])
        {
            IPage page = await browser
                .OpenAsync(new Uri(demo.Dashboard.ToString().Replace("/#", "/studies.html#", StringComparison.Ordinal)), width, 900,
                scheme);
            await Assertions.Expect(page.Locator("#name")).Not.ToHaveTextAsync("");
            // A dryer that ran hot.
            await page.Locator("#prints input").First.CheckAsync();
            await page.Locator("#storage input").First.FillAsync("open shelf");
            foreach ((int field, string text) in ((int, string)[])[(0, "50"), (1, "63"), (2, "6"), (3, "1004"), (4, "1000")])
                await page.Locator("#drying input").Nth(field).FillAsync(text);
            await Assertions.Expect(page.Locator("#remarks")).ToContainTextAsync("63");
            await page.Locator("#drying input").Last.FocusAsync();
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder!, $"studies-{name}-record.png") });
            await page.EvaluateAsync("document.activeElement.blur(); window.scrollTo(0, 0)");
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder!, $"studies-{name}.png"), FullPage = true });
            Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        }
    }
}
