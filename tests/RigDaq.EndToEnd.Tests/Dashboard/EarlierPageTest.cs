using Microsoft.Playwright;
using RigDaq.Core.Specimens;
using RigDaq.Tests.Shared;
using static Microsoft.Playwright.Assertions;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>Earlier results and the control, on the page of studies.</summary>
public sealed class EarlierPageTest(Browser browser) : IClassFixture<Browser>
{
    [Theory]
    [InlineData(1440, 900, ColorScheme.Light)]
    [InlineData(390, 844, ColorScheme.Dark)]
    public async Task A_study_is_set_against_an_earlier_one_its_control_marked_and_every_group_shown(int width, int height,
        ColorScheme scheme)
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        PulledStudy.Fill(host.Archive);
        host.Archive.Studies.Save(PulledStudy.Later(), "made");
        IPage page = await browser.OpenAsync(StudyPageTest.AddressOf(host.KeyedUrl), width, height, scheme);
        await Expect(page.Locator("#name")).ToHaveTextAsync("Once more");
        await Expect(page.Locator("#against-now")).ToHaveTextAsync("Not set against any earlier study.");
        await page.Locator("#earlier-box > summary").ClickAsync();
        await page.Locator("#against-save").ClickAsync();
        await Expect(page.Locator("#earlier-answer")).ToContainTextAsync("why");
        await page.Locator("#earlier-why").FillAsync("is it as last time?");
        await page.Locator("#against-save").ClickAsync();
        await Expect(page.Locator("#against-now")).ToContainTextAsync("(2026-11-02): 46 strengths");
        Assert.Equal(PulledStudy.Id, Assert.Single(Find(host).Earlier).StudyId);

        await page.Locator("#earlier-why").FillAsync("kept for it");
        await page.Locator("#control").SelectOptionAsync("Birch, fan off, 220");
        await page.Locator("#control-save").ClickAsync();
        await Expect(page.Locator("#control-now")).ToHaveTextAsync("The control is Birch, fan off, 220\u202f°C.");
        Assert.Equal(new GroupKey("Birch", "fan off", 220), Find(host).Control);

        await page.Locator("#shelf-box > summary").ClickAsync();
        await Expect(page.Locator("#shelf tr")).ToHaveCountAsync(24);
        await Expect(page.Locator("#shelf tr").First).ToContainTextAsync("6; prints: 1; imported: 6");
        await Expect(page.Locator("#controls li")).ToContainTextAsync("The control Birch, fan off, 220: 1 session");
        Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        Assert.Empty(await page.FaultsAsync());
        await StudyPageTest.PicturedAsync(page, $"earlier-{width}");

        await page.Locator("#earlier-why").FillAsync("another spool");
        await page.Locator("#against-how").SelectOptionAsync("remove");
        await Expect(page.Locator("#against-save")).ToHaveTextAsync("Remove");
        await page.Locator("#against-save").ClickAsync();
        await Expect(page.Locator("#against-now")).ToHaveTextAsync("Not set against any earlier study.");
        Assert.Empty(Find(host).Earlier);
    }

    private static Study Find(PageHost host) => host.Archive.Studies.Find(PulledStudy.LaterId)!;
}
