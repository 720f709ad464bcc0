using Microsoft.Playwright;
using RigDaq.Core.Specimens;
using static Microsoft.Playwright.Assertions;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>Studies are looked at, chosen and frozen by keyboard alone.</summary>
public sealed class StudyPageTest(Browser browser) : IClassFixture<Browser>
{
    [Theory]
    [InlineData(1440, ColorScheme.Light)]
    [InlineData(360, ColorScheme.Dark)]
    public async Task A_study_is_looked_at_chosen_and_frozen_with_a_second_press(int width, ColorScheme scheme)
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        SectionStudy.Store(host);
        StoredRun.Store(host);
        IPage page = await browser.OpenAsync(AddressOf(host.KeyedUrl), width, 900, scheme);
        await Expect(page.Locator("#name")).ToHaveTextAsync("Alder and Birch");
        Assert.Empty(await page.FaultsAsync());

        await page.Locator("#studies button").Nth(1).FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#name")).ToHaveTextAsync("Alder, cooling fan");
        await Expect(page.Locator("#name")).ToBeFocusedAsync();
        Assert.Null(host.Archive.Chosen); // Looking chooses nothing.
        await page.Keyboard.PressAsync("Tab");
        await Expect(page.Locator("#work")).ToBeFocusedAsync();
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#answer")).ToContainTextAsync("worked on");
        await Expect(page.Locator("#studies tr").Nth(1)).ToContainTextAsync("worked on");
        Assert.Equal(SectionStudy.Id, host.Archive.Chosen);

        await page.Locator("#freeze").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#freeze")).ToContainTextAsync("again");
        Assert.Null(Find(host).PlanFrozenAt);
        await page.Keyboard.PressAsync("Tab"); // Whoever goes away has not meant it.
        await Expect(page.Locator("#freeze")).Not.ToContainTextAsync("again");
        await page.Locator("#freeze").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#freeze")).ToBeHiddenAsync();
        Assert.NotNull(Find(host).PlanFrozenAt);
        Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        Assert.Empty(await page.FaultsAsync());
    }

    [Fact]
    public async Task A_page_without_the_key_may_look_and_changes_nothing()
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        SectionStudy.Store(host);
        IPage page = await browser.OpenAsync(new Uri(host.Url, "/studies.html"));
        await Expect(page.Locator("#name")).ToHaveTextAsync("Alder, cooling fan");
        await Expect(page.Locator("#freeze")).ToBeDisabledAsync();
        await Expect(page.Locator("#banners")).ToContainTextAsync("may look");
    }

    internal static Uri AddressOf(Uri keyed) => new(keyed.ToString().Replace("/#", "/studies.html#", StringComparison.Ordinal));

    private static Study Find(PageHost host) => ((IStudyArchive)host.Archive).Find(SectionStudy.Id)!;
}
