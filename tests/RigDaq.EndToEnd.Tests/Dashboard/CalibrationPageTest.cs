using System.Globalization;
using Microsoft.Playwright;
using RigDaq.Core.Calibration;
using static Microsoft.Playwright.Assertions;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>A person calibrates by the page; the cell gives 1,000 counts a newton, so the curve must come out at 0.001 N a count.</summary>
public sealed class CalibrationPageTest(Browser browser) : IClassFixture<Browser>
{
    private static readonly TimeSpan Bound = TimeSpan.FromSeconds(90);

    [Fact]
    public async Task A_person_is_led_through_and_nothing_is_in_force_before_it_is_accepted()
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        IPage page = await browser.OpenAsync(new Uri(host.KeyedUrl.ToString().Replace("/#", "/calibrate.html#", StringComparison.Ordinal)));
        await Expect(page.Locator("#latitude")).ToHaveValueAsync("52.2"); // As configured.
        await page.Locator("#add-weight").ClickAsync();
        await page.Locator("[data-name=kilograms]").Nth(0).FillAsync("10");
        await page.Locator("[data-name=kilograms]").Nth(1).FillAsync("20");
        foreach ((string field, string value) in ((string, string)[])[("steps", "3"), ("preloads", "1"), ("rising", "1"), ("falling", "0"),
            ("dwell", "0"), ("zero-return", "0"), ("warm-up", "1")])
        {
            await page.Locator("#" + field).FillAsync(value);
        }

        Assert.Empty(await page.FaultsAsync());
        await page.Locator("#weights-read").CheckAsync();
        await page.Locator("#setup button[type=submit]").ClickAsync();
        await Expect(page.Locator("#guide")).ToBeVisibleAsync();
        await HangWhatIsAskedForAsync(host, page);

        await Expect(page.Locator("#class")).ToContainTextAsync("no class"); // One series: the repeatability is not known.
        await Expect(page.Locator("#figures tr")).ToHaveCountAsync(3);
        Assert.Empty(await page.FaultsAsync());
        Assert.Null(host.Data.Kept);
        Assert.DoesNotContain("calibration", host.Rig.Calls);

        await page.Locator("#accept").ClickAsync();
        await Expect(page.Locator("#review-answer")).ToHaveTextAsync("The calibration is active.");
        CalibrationRecord kept = host.Data.Kept!;
        Assert.Contains("calibration", host.Rig.Calls);
        Assert.Equal(0.001, kept.Curve.Coefficients[0], 0.00001);
        // 30 kg at 52.2° north, 34 m: 9.8126 m/s² by GRS80 and free air, less the air's buoyancy of 0.015 % (measurement of the docs).
        Assert.Equal(30 * 9.8126 * (1 - 0.00015), kept.GreatestReferenceNewtons, 0.02);
        Assert.Equal(2, kept.Circumstances!.Weights.Count);
    }

    [Fact]
    public async Task What_cannot_be_begun_is_said_in_words()
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        IPage page = await browser.OpenAsync(new Uri(host.KeyedUrl.ToString().Replace("/#", "/calibrate.html#", StringComparison.Ordinal)),
            width: 360);
        await page.Locator("[data-name=kilograms]").FillAsync("3.3"); // No nominal value of a class.
        await page.Locator("#weights-read").CheckAsync();
        await page.Locator("#setup button[type=submit]").ClickAsync();
        await Expect(page.Locator("#setup-answer")).ToContainTextAsync("no nominal value of the classes");
        Assert.Equal(360, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
    }

    private static async Task HangWhatIsAskedForAsync(PageHost host, IPage page)
    {
        long end = Environment.TickCount64 + (long)Bound.TotalMilliseconds;
        while (!await page.Locator("#review").IsVisibleAsync())
        {
            Assert.True(Environment.TickCount64 < end, await page.Locator("#words").InnerTextAsync());
            string wanted = (await page.Locator("#wanted").InnerTextAsync()).Split('\u202f')[0];
            if (double.TryParse(wanted, CultureInfo.InvariantCulture, out double newtons)) host.Rig.Hang(newtons);
            await page.WaitForTimeoutAsync(100); // A hand takes longer; the page is looked at like a person would.
        }
    }
}
