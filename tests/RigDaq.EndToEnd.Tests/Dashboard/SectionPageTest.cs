using Microsoft.Playwright;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using static Microsoft.Playwright.Assertions;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>Sections are taken while the daemon runs, by keyboard alone, as a caliper types them.</summary>
public sealed class SectionPageTest(Browser browser) : IClassFixture<Browser>
{
    [Theory]
    [InlineData(1440, ColorScheme.Light)]
    [InlineData(360, ColorScheme.Dark)]
    public async Task Pieces_are_measured_one_after_another_by_readings_and_Enter(int width, ColorScheme scheme)
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        SectionStudy.Store(host);
        IPage page = await browser
            .OpenAsync(new Uri(host.KeyedUrl.ToString().Replace("/#", $"/sections.html?study={SectionStudy.Id}#",
            StringComparison.Ordinal)), width, 900, scheme);
        await Expect(page.Locator("#piece")).ToHaveTextAsync("P1-01");
        Assert.Empty(await page.FaultsAsync());

        // Nobody touches the pointer: each reading ends with Enter.
        foreach ((string piece, string widthReading, string thickness) in ((string, string, string)[])[("P1-01", "6.01", "2.02"),
            ("P1-02", "6.03", "2,00")])
        {
            await Expect(page.Locator("#piece")).ToHaveTextAsync(piece);
            await page.Keyboard.TypeAsync(widthReading);
            await page.Keyboard.PressAsync("Enter");
            await page.Keyboard.TypeAsync(thickness);
            await page.Keyboard.PressAsync("Enter");
        }

        await Expect(page.Locator("#piece")).ToHaveTextAsync("P2-01");
        await Expect(page.Locator("#progress")).ToHaveTextAsync("2 of 3 measured");
        Assert.Equal([6.01], SectionStudy.Find(host, "P1-01").Section!.WidthsMillimetres);
        Assert.Equal([2.0], SectionStudy.Find(host, "P1-02").Section!.ThicknessesMillimetres);

        // A slipped decimal point is asked about; a second Enter keeps it.
        await page.Keyboard.TypeAsync("60.1");
        await page.Keyboard.PressAsync("Enter");
        await page.Keyboard.TypeAsync("2.01");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#answer")).ToContainTextAsync("was 6.01 mm meant?");
        Assert.Null(SectionStudy.Find(host, "P2-01").Section);
        if (Environment.GetEnvironmentVariable("RIGDAQ_PICTURES") is { Length: > 0 } folder)
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, $"sections-{width}.png"), FullPage = true });
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#done")).ToBeVisibleAsync();
        Assert.Equal([60.1], SectionStudy.Find(host, "P2-01").Section!.WidthsMillimetres);

        // By mass, length and density: 1.488 g over 100 mm at 1.24 g/cm³ are 12 mm².
        await page.Locator(".how summary").ClickAsync();
        await page.Locator("#way").SelectOptionAsync("mass");
        await page.Locator("#list button").First.ClickAsync();
        foreach (string reading in (string[])["1.488", "", "100", "", "1.24", ""])
        {
            await page.Keyboard.TypeAsync(reading);
            await page.Keyboard.PressAsync("Enter");
        }

        await Expect(page.Locator("#done")).ToBeVisibleAsync();
        Assert.Equal(12, SectionCalculation.OfReadings(SectionStudy.Find(host, "P1-01").Section!).Section!.AreaSquareMillimetres, 1e-9);
        Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        Assert.Empty(await page.FaultsAsync());
    }

    [Fact]
    public async Task Measuring_a_pulled_piece_again_gives_its_run_a_further_revision_with_its_message()
    {
        // Strength is the peak force over the section (ISO 527-1:2012, 10.1): twice the width halves it.
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        Run before = StoredRun.Store(host);
        IPage page = await browser.OpenAsync(new Uri(host.KeyedUrl.ToString().Replace("/#", "/sections.html#", StringComparison.Ordinal)));
        await Expect(page.Locator("#done")).ToBeVisibleAsync();
        await page.Locator("#list button").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.Keyboard.TypeAsync("12.04");
        await page.Keyboard.PressAsync("Enter");
        await page.Keyboard.TypeAsync("2.005");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#progress")).ToHaveTextAsync("1 of 1 measured");
        await Expect(page.Locator("#answer")).ToContainTextAsync("a new revision: 1");
        Run after = host.Runs.Find(StoredRun.Id)!;
        Assert.Equal(1, after.Revision);
        Assert.Equal(before.Strength!.Megapascals / 2, after.Strength!.Megapascals, before.Strength.Megapascals * 1e-6);
        Assert.Single(host.Archive.Outbox.Pending(10));
    }

    [Fact]
    public async Task A_page_without_the_key_may_look_and_keeps_nothing()
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        SectionStudy.Store(host);
        IPage page = await browser.OpenAsync(new Uri(host.Url, "/sections.html?study=" + SectionStudy.Id));
        await Expect(page.Locator("#list tr")).ToHaveCountAsync(3);
        await Expect(page.Locator("#measure")).ToBeHiddenAsync();
        using var client = new HttpClient();
        using var body = new StringContent("""{"specimen":"P1-01","areaSquareMillimetres":12}""");
        using HttpResponseMessage answer = await client.PostAsync(new Uri(host.Url, $"/api/v1/studies/{SectionStudy.Id}/sections"), body,
            TestContext.Current.CancellationToken);
        Assert.Equal(System.Net.HttpStatusCode.Forbidden, answer.StatusCode);
        Assert.Null(SectionStudy.Find(host, "P1-01").Section);
    }
}
