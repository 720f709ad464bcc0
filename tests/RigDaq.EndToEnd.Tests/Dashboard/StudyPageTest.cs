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
        Assert.Null(host.Archive.Studies.Chosen); // Looking chooses nothing.
        await page.Keyboard.PressAsync("Tab");
        await Expect(page.Locator("#work")).ToBeFocusedAsync();
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#answer")).ToContainTextAsync("active study");
        await Expect(page.Locator("#studies tr").Nth(1)).ToContainTextAsync("active");
        Assert.Equal(SectionStudy.Id, host.Archive.Studies.Chosen);

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
    public async Task A_record_is_typed_for_two_prints_and_a_hot_dryer_is_told_before_it_is_kept()
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        SectionStudy.Store(host);
        IPage page = await browser.OpenAsync(AddressOf(host.KeyedUrl));
        await Expect(page.Locator("#remarks")).ToContainTextAsync("No print has a record");
        await page.Locator("#prints input").First.FocusAsync();
        await page.Keyboard.PressAsync("Space");
        await page.Keyboard.PressAsync("ArrowDown");
        await page.Keyboard.PressAsync("Space");
        await Expect(page.Locator("#keep")).ToHaveTextAsync("Save for P1, P2");

        // The whole list is one stop of the Tab key; Enter goes on from field to field and keeps nothing.
        await page.Keyboard.PressAsync("Tab");
        await Expect(page.Locator("#storage input").First).ToBeFocusedAsync();
        await TypeAsync(page, "open shelf", "21", "55,5", "240");
        await page.Locator("#drying input").First.FocusAsync();
        await TypeAsync(page, "50", "63", "6", "1004", "1000");
        await Expect(page.Locator("#remarks")).ToContainTextAsync("the dryer reached 63 °C where 50 °C were set");
        await Expect(page.Locator("#uptake")).ToContainTextAsync("0.40 %");
        Assert.Single(host.Archive.Studies.Versions(SectionStudy.Id));
        Assert.Empty(await page.FaultsAsync());
        await page.Locator("#keep").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#record-answer")).ToHaveTextAsync("Saved for P1, P2.");
        await Expect(page.Locator("#remarks")).ToContainTextAsync("the records of fan on and fan off are the same");
        await Expect(page.Locator("#prints tr").Nth(1)).ToContainTextAsync("open shelf, 21 °C, 55.5 % RH, 240 h");
        Assert.All(Find(host).Prints, print => Assert.Equal(55.5, print.Record!.Storage[0].RelativeHumidityPercent));

        // One print alone shows its record again, to be changed.
        await page.Locator("#prints input").Nth(1).FocusAsync();
        await page.Keyboard.PressAsync("Space");
        await Expect(page.Locator("#keep")).ToHaveTextAsync("Save for P1");
        await Expect(page.Locator("#drying input").Nth(1)).ToHaveValueAsync("63");
        await page.Locator("#drying input").Nth(1).FocusAsync();
        await page.Keyboard.PressAsync("Control+a");
        await TypeAsync(page, "hot");
        await page.Locator("#keep").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#record-answer")).ToContainTextAsync("a number was expected, not “hot”");
        Assert.Equal(63, Find(host).Prints[0].Record!.Drying[0].MeasuredTemperatureCelsius);
    }

    [Theory]
    [InlineData(1440, ColorScheme.Dark)]
    [InlineData(360, ColorScheme.Light)]
    public async Task A_study_is_made_chosen_and_its_first_record_warned_of_without_touching_the_pointer(int width, ColorScheme scheme)
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        SectionStudy.Store(host);
        host.Archive.Studies.Choose(SectionStudy.Id);
        IPage page = await browser.OpenAsync(AddressOf(host.KeyedUrl), width, 900, scheme);
        await Expect(page.Locator("#name")).ToHaveTextAsync("Alder, cooling fan");
        await page.Locator("#make-box > summary").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.Keyboard.PressAsync("Tab");
        await TypeAsync(page, "Alder, dried or not", ""); // The id follows from the name.
        await Expect(page.Locator("#make-materials")).ToBeFocusedAsync();
        await page.Keyboard.TypeAsync("Alder = PLA");
        await page.Keyboard.PressAsync("Tab");
        await TypeAsync(page, "as left");
        await page.Keyboard.TypeAsync("dried");
        await page.Keyboard.PressAsync("Tab");
        await page.Keyboard.PressAsync("Tab"); // No setting.
        await TypeAsync(page, "", "");
        await page.Keyboard.PressAsync("Control+a");
        await TypeAsync(page, "2");
        await page.Keyboard.PressAsync("Control+a");
        await TypeAsync(page, "5");
        await page.Keyboard.TypeAsync("as left"); // The reference, offered from what was typed.
        await Expect(page.Locator("#make-words")).ToContainTextAsync("Groups: 2; prints: 4; specimens: 20; comparisons: 1.");
        Assert.Empty(await page.FaultsAsync());
        await PicturedAsync(page, $"studies-make-{width}");
        await page.Locator("#make [type=submit]").FocusAsync();
        await page.Keyboard.PressAsync("Enter");

        await Expect(page.Locator("#name")).ToHaveTextAsync("Alder, dried or not");
        await Expect(page.Locator("#name")).ToBeFocusedAsync();
        await Expect(page.Locator("#answer")).ToContainTextAsync("still “Alder, cooling fan”");
        Study made = host.Archive.Studies.Find("alder-dried-or-not")!;
        Assert.Equal(("as left", 20), (made.ReferenceCondition, made.Specimens.Count));
        await page.Keyboard.PressAsync("Tab");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#standing")).ToContainTextAsync("you chose it");
        Assert.Equal(made.Id, host.Archive.Studies.Active()?.Id);

        await page.Locator("#prints input").First.FocusAsync();
        foreach (string key in (string[])["ArrowDown", "ArrowDown", "Space", "ArrowDown", "Space"]) await page.Keyboard.PressAsync(key);
        await page.Locator("#drying input").First.FocusAsync();
        await TypeAsync(page, "55", "72", "8");
        await Expect(page.Locator("#remarks")).ToContainTextAsync("72 °C is above the 45 to 55 °C in use for PLA");
        await page.Locator("#keep").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#record-answer")).ToHaveTextAsync("Saved for P03, P04.");
        await Expect(page.Locator("#prints tr").Nth(3)).ToContainTextAsync("72 °C measured");
        await Expect(page.Locator("#drying input").Nth(1)).ToHaveValueAsync("72"); // A second press takes nothing away.
        Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        Assert.Empty(await page.FaultsAsync());
        await PicturedAsync(page, $"studies-made-{width}");
    }

    [Fact]
    public async Task A_condition_is_renamed_and_the_earlier_version_brought_back()
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        SectionStudy.Store(host);
        IPage page = await browser.OpenAsync(AddressOf(host.KeyedUrl));
        await Expect(page.Locator("#versions-box > summary")).ToBeVisibleAsync(); // What is hidden until the study came takes no focus.
        await page.Locator("#versions-box > summary").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#versions li")).ToHaveCountAsync(1);
        await page.Keyboard.PressAsync("Tab");
        await TypeAsync(page, "clearer");
        await page.Keyboard.TypeAsync("fan on");
        await page.Keyboard.PressAsync("Tab");
        await TypeAsync(page, "fan at full");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#prints tr").Nth(1)).ToContainTextAsync("fan at full");
        await Expect(page.Locator("#versions li")).ToHaveCountAsync(2);
        Assert.Empty(await page.FaultsAsync());
        await page.Locator("#why").FocusAsync();
        await page.Keyboard.TypeAsync("it was right");
        await page.Locator("#versions button").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#versions li")).ToHaveCountAsync(3);
        await Expect(page.Locator("#correct-answer")).ToContainTextAsync("back to version 1: it was right");
        Assert.Equal("fan on", Find(host).Prints[1].Condition);
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
        await Expect(page.Locator("#banners")).ToContainTextAsync("can look");
    }

    internal static async Task PicturedAsync(IPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("RIGDAQ_PICTURES") is { Length: > 0 } folder)
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, name + ".png"), FullPage = true });
    }

    private static async Task TypeAsync(IPage page, params string[] fields)
    {
        foreach (string field in fields)
        {
            await page.Keyboard.TypeAsync(field);
            await page.Keyboard.PressAsync("Enter");
        }
    }

    internal static Uri AddressOf(Uri keyed) => new(keyed.ToString().Replace("/#", "/studies.html#", StringComparison.Ordinal));

    private static Study Find(PageHost host) => host.Archive.Studies.Find(SectionStudy.Id)!;
}
