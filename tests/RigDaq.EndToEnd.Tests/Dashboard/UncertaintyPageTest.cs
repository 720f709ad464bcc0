using Microsoft.Playwright;
using RigDaq.Core.Pulls;
using static Microsoft.Playwright.Assertions;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>Where an uncertainty comes from, asked by keyboard alone at several widths; and the budget on the page of a run.</summary>
public sealed class UncertaintyPageTest(Browser browser) : IClassFixture<Browser>
{
    [Theory]
    [InlineData(1440, ColorScheme.Light)]
    [InlineData(1440, ColorScheme.Dark)]
    [InlineData(360, ColorScheme.Light)]
    public async Task A_person_asks_at_a_force_and_a_section_and_is_told_what_to_do(int width, ColorScheme scheme)
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        StoredRun.Store(host, new BenchInputs());
        IPage page = await browser.OpenAsync(new Uri(host.Url, "/uncertainty.html"), width, 900, scheme);
        await Expect(page.Locator("#whole")).ToContainTextAsync("a strength is uncertain by ±");
        await Expect(page.Locator("#width")).ToHaveValueAsync("6.02");
        await Expect(page.Locator("#notes")).ToContainTextAsync("Bending in the grips was not measured");
        await Expect(page.Locator("#gains li").First).ToContainTextAsync("Align the load train");
        Assert.True(await page.Locator("#picture")
            .EvaluateAsync<bool>("async picture => { await picture.decode(); return picture.naturalWidth > 100; }"));
        Assert.Contains("alignment", await page.Locator("#picture").GetAttributeAsync("alt") ?? "", StringComparison.Ordinal);
        Assert.Empty(await page.FaultsAsync());
        Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        await Picture(page, $"uncertainty-{width}-{scheme}");
        string before = await page.Locator("#whole").TextContentAsync() ?? "";

        await page.Locator("#bending").FocusAsync();
        await page.Keyboard.TypeAsync("0,5");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#whole")).Not.ToHaveTextAsync(before);
        await Expect(page.Locator("#whole")).ToBeFocusedAsync();
        await Expect(page.Locator("#notes")).Not.ToContainTextAsync("Bending in the grips was not measured");

        // Without a section it is about the force alone.
        await page.Locator("#width").FillAsync("");
        await page.Locator("#thickness").FillAsync("");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#whole")).ToContainTextAsync("the force is uncertain by ±");
        await page.Locator("#force").FillAsync("much");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#answer")).ToContainTextAsync("“much” is not a number");
        await page.Locator("#force").FillAsync("-4");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#answer")).ToContainTextAsync("out of its range");
        Assert.Empty(await page.FaultsAsync());
    }

    [Theory]
    [InlineData(1440, ColorScheme.Light)]
    [InlineData(1440, ColorScheme.Dark)]
    [InlineData(360, ColorScheme.Dark)]
    public async Task A_runs_page_gives_the_budget_end_to_end_and_leads_to_the_question(int width, ColorScheme scheme)
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        StoredRun.Store(host, new BenchInputs { CaliperErrorMillimetres = 0.02 });
        IPage page = await browser.OpenAsync(new Uri(host.Url, "/run.html?run=" + StoredRun.Id), width, 900, scheme);
        await page.Locator("#uncover").ClickAsync();
        await Expect(page.Locator("#budget tr").First).ToContainTextAsync("alignment: bending in the grips (assumed)");
        foreach (string source in (string[])["calibration: ", "zero of the pull", "peak force", "section: ", "caliper's own error"])
            await Expect(page.Locator("#budget")).ToContainTextAsync(source);
        await Expect(page.Locator("#gains li").First).ToContainTextAsync("Align the load train");
        Assert.True(await page.Locator("#budget .bar-of").First.EvaluateAsync<double>("bar => bar.getBoundingClientRect().width") > 20);
        Assert.Empty(await page.FaultsAsync());
        Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        await Picture(page, $"run-budget-{width}-{scheme}");
        await page.Locator("#to-origins").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#from")).ToContainTextAsync(StoredRun.Specimen);
        await Expect(page.Locator("#error")).ToHaveValueAsync("0.02");
    }

    [Fact]
    public async Task A_run_of_before_says_that_its_own_figure_leaves_the_bench_out()
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        StoredRun.Store(host);
        IPage page = await browser.OpenAsync(new Uri(host.Url, "/run.html?run=" + StoredRun.Id));
        await page.Locator("#uncover").ClickAsync();
        await Expect(page.Locator("#budget-notes")).ToContainTextAsync("stored before caliper and alignment were");
    }

    private static async Task Picture(IPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("RIGDAQ_PICTURES") is { Length: > 0 } folder)
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, name + ".png"), FullPage = true });
    }
}
