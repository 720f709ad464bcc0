using Microsoft.Playwright;
using RigDaq.Core.Strength;
using static Microsoft.Playwright.Assertions;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>Recordings of other programs on the page: the proposal is shown, corrected and kept, by keyboard alone where files are chosen.</summary>
public sealed class CurvesPageTest(Browser browser) : IClassFixture<Browser>
{
    [Theory]
    [InlineData(1440, ColorScheme.Light)]
    [InlineData(390, ColorScheme.Dark)]
    public async Task A_file_is_read_corrected_and_saved_as_a_run(int width, ColorScheme scheme)
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        IPage page = await browser.OpenAsync(new Uri(host.KeyedUrl.ToString().Replace("/#", "/curves.html#", StringComparison.Ordinal)), width, 900, scheme);
        await Expect(page.Locator("#files")).ToBeEnabledAsync();
        Assert.Empty(await page.FaultsAsync());
        await page.Locator("#files").SetInputFilesAsync(new FilePayload { Name = "bench.csv", MimeType = "text/csv", Buffer = System.Text.Encoding.Latin1.GetBytes(Pull("Prüfzeit [s];Kanal 2")) });

        // No name and no unit says what is the force: asked for, not guessed.
        await Expect(page.Locator("#faults li")).ToContainTextAsync("no other column");
        await Expect(page.Locator("#keeping")).ToBeHiddenAsync();
        await page.Locator("#columns select").Nth(1).FocusAsync();
        await page.Keyboard.TypeAsync("force");
        await page.Keyboard.PressAsync("Tab");
        await Expect(page.Locator("#warnings li")).ToContainTextAsync("no unit for the force");
        await page.Locator("[name=forceUnit]").FillAsync("kN");
        await page.Keyboard.PressAsync("Tab");
        await Expect(page.Locator("#warnings li")).ToHaveCountAsync(0);
        await Expect(page.Locator("#curves img")).ToBeVisibleAsync();
        await Expect(page.Locator("#curves article p")).ToContainTextAsync("broken");
        Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        Assert.Empty(await page.FaultsAsync());

        foreach ((string name, string text) in ((string, string)[])[("study", "old"), ("material", "Alder"), ("condition", "dry"), ("width", "10 10.2"), ("thickness", "4"), ("saveLayout", "bench")])
            await page.Locator($"#keep [name={name}]").FillAsync(text);
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#kept")).ToContainTextAsync("Runs saved in the study old: 1.");
        Assert.Empty(await page.FaultsAsync());
        if (Environment.GetEnvironmentVariable("RIGDAQ_PICTURES") is { Length: > 0 } folder)
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, $"curves-{width}.png"), FullPage = true });
        Run run = Assert.Single(host.Runs.OfStudy("old"));
        Assert.Equal("bench.csv", run.Head.Recording!.File);
        Assert.InRange(run.Reading!.PeakForceNewtons!.Value, 790_000, 810_000);
        Assert.Equal(40.4, run.Strength!.AreaSquareMillimetres, 1e-9);
        Assert.True(File.Exists(Path.Combine(host.DataFolder, "layouts", "bench.json")));
    }

    [Fact]
    public async Task Without_the_key_nothing_is_read()
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        IPage page = await browser.OpenAsync(new Uri(host.Url, "/curves.html"));
        await Expect(page.Locator("#files")).ToBeDisabledAsync();
        await Expect(page.Locator("#banners")).ToContainTextAsync("key");
        using var client = new HttpClient();
        using var body = new ByteArrayContent("t (s),F (N)\n0,1\n1,2\n"u8.ToArray());
        using HttpResponseMessage answer = await client.PostAsync(new Uri(host.Url, "/api/curves-keep?name=a.csv&study=s&material=m&condition=c"), body, TestContext.Current.CancellationToken);
        Assert.Equal(System.Net.HttpStatusCode.Forbidden, answer.StatusCode);
        Assert.Empty(host.Runs.OfStudy("s"));
    }

    /// <summary>200 units/s from 1 s to a break at 5 s, 100 samples/s, in tenths written with commas.</summary>
    private static string Pull(string header) => header + "\n" + string.Concat(Enumerable.Range(0, 700).Select(i =>
    {
        double time = i / 100.0, force = (time is < 1 or > 5 ? 0 : 200 * (time - 1)) + (i % 3);
        return FormattableString.Invariant($"{time:F2};{force:F2}\n").Replace('.', ',');
    }));
}
