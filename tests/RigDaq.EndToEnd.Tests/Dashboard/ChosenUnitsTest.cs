using Microsoft.Playwright;
using RigDaq.Core.Quantities;
using RigDaq.Rig.Sequencing;
using RigDaq.Tests.Shared;
using static Microsoft.Playwright.Assertions;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>
/// What a person reads in pounds and inches, in a real browser. Factors: 1 lbf = 4.448222 N, 1 psi = 6894.757 Pa, 1 in = 25.4 mm
/// (NIST Special Publication 811, appendix B.8).
/// </summary>
public sealed class ChosenUnitsTest(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    private static readonly Units Imperial = Units.Of("lbf", "psi", "in")!;

    public ValueTask InitializeAsync() => ValueTask.CompletedTask;

    public async ValueTask DisposeAsync() => await browser.CloseAllAsync();

    [Fact]
    public async Task The_dashboard_shows_pounds_psi_and_inches_everywhere()
    {
        await using PageHost host = await PageHost.StartAsync(units: Imperial);
        SequencePlan plan = host.Data.NextPlan()!;
        host.Rig.Set(s => s with
        {
            GripSeparationMillimetres = 50.8,
            Sequence = FakeData.Sequence(plan, SequenceStage.Held, done: 5) with { Reason = Rig.Text.RigText.ForceLimitReached(900) },
            LastRun = FakeData.Run(plan.SpecimenIds[4]),
        });
        host.Rig.Hang(444.8222);
        IPage page = await browser.OpenAsync(host.KeyedUrl);

        await Expect(page.Locator("#force")).ToHaveTextAsync(new System.Text.RegularExpressions.Regex(@"^(99\.9|100\.0)\d$"));
        await Expect(page.Locator("#force-unit")).ToHaveTextAsync("lbf");
        await Expect(page.Locator("#separation")).ToHaveTextAsync("2.0000\u202fin");
        await Expect(page.Locator("#reason")).ToHaveTextAsync("The force reached 202.3 lbf, the limit.");
        // 51.03 MPa is 7401 psi, 0.68 MPa is 99 psi; 612.4 N is 137.67 lbf, 12 mm² are 0.0186 in².
        await Expect(page.Locator("#result")).ToContainTextAsync("7400 ± 100\u202fpsi");
        await Expect(page.Locator("#result")).ToContainTextAsync("137.7\u202flbf");
        await Expect(page.Locator("#result")).ToContainTextAsync("0.01860\u202fin²");
        await Expect(page.Locator("#result")).ToContainTextAsync("After the break the force lay 0.92 lbf below the zero");
        // 47.9 MPa is 6947 psi, its half-width of 1.6 MPa 232 psi.
        await Expect(page.Locator("#groups")).ToContainTextAsync("Mean, psi");
        await Expect(page.Locator("#groups tbody tr").First).ToContainTextAsync("6950");
        await Expect(page.Locator("#groups tbody tr").First).ToContainTextAsync("6720 to 7180");
        await Expect(page.Locator("#jog-speed option").First).ToHaveTextAsync("0.24\u202fin/min");
        await Expect(page.Locator("#facts")).ToContainTextAsync("The check weight reads 11.038 lbf, outside 11.020 to 11.034 lbf");
        string text = await page.Locator("body").InnerTextAsync();
        Assert.DoesNotMatch(@"\d\s(N|MPa|mm|mm/s|mm²)\b", text);
        await Expect(page.Locator("#trace")).ToHaveAttributeAsync("aria-label", new System.Text.RegularExpressions.Regex("lbf$"));
    }

    [Fact]
    public async Task A_distance_that_is_typed_in_inches_goes_to_the_rig_in_millimetres()
    {
        await using PageHost host = await PageHost.StartAsync(units: Imperial);
        IPage page = await browser.OpenAsync(host.KeyedUrl);
        await page.Locator("#grip").FillAsync("1.575");
        await page.Locator("#grip-go").ClickAsync();
        await page.Locator("#cautions-read").CheckAsync();
        await page.Locator("#cautions-go").ClickAsync();
        await Expect(page.Locator("#cautions")).ToBeHiddenAsync();
        await page.Locator("#grip-go").ClickAsync();
        // A real browser sends it when it comes to it.
        for (int i = 0; i < 100 && !host.Rig.Calls.Any(call => call.StartsWith("grip", StringComparison.Ordinal)); i++) await page
            .WaitForTimeoutAsync(50);
        string call = host.Rig.Calls.Single(call => call.StartsWith("grip", StringComparison.Ordinal));
        Assert.Contains("40.005", call, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_page_of_a_run_shows_the_stored_figures_in_pounds_psi_and_inches()
    {
        await using PageHost host = await PageHost.StartAsync(units: Imperial);
        Core.Runs.Run run = StoredRun.Store(host);
        IPage page = await browser.OpenAsync(new Uri(host.KeyedUrl, $"/run.html?run={StoredRun.Id}{host.KeyedUrl.Fragment}"));
        await page.Locator("#always").CheckAsync();
        double psi = run.Strength!.Megapascals * 1e6 / 6894.757;
        string shown = await page.Locator("#strength").InnerTextAsync();
        Assert.Matches(@"^[\d.]+ ± [\d.]+\spsi", shown);
        double expanded = 2 * run.Strength.StandardUncertaintyMegapascals * 1e6 / 6894.757;
        Assert.Equal(psi, double.Parse(shown.Split(' ')[0], System.Globalization.CultureInfo.InvariantCulture), expanded * .17);
        await Expect(page.Locator("#reading")).ToContainTextAsync("lbf");
        // 6.01 mm and 6.03 mm: 0.2366 in and 0.2374 in.
        await Expect(page.Locator("#section")).ToContainTextAsync("0.2366, 0.2374\u202fin");
        await Expect(page.Locator("#budget-box")).ToContainTextAsync("Standard uncertainty, psi");
        Assert.DoesNotMatch(@"\d\s(N|MPa|mm|mm/s|mm²|N/s)\b", await page.Locator("#run").InnerTextAsync());
        string svg = await page
            .EvaluateAsync<string>($"async () => await (await fetch('{Addresses.Of("run-trace?run=" + StoredRun.Id)}')).text()");
        Assert.Contains("force in lbf", svg, StringComparison.Ordinal);
        if (Environment.GetEnvironmentVariable("RIGDAQ_PICTURES") is { Length: > 0 } folder)
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, "run-imperial.png"), FullPage = true });
    }

    [Fact]
    public async Task A_calibration_asks_in_pounds_and_keeps_newtons()
    {
        await using PageHost host = await PageHost.StartAsync(units: Imperial);
        IPage page = await browser.OpenAsync(new Uri(host.KeyedUrl.ToString().Replace("/#", "/calibrate.html#", StringComparison.Ordinal)));
        await Expect(page.Locator("label:has(#full-scale)")).ToContainTextAsync("full scale, lbf");
        await page.Locator("#add-weight").ClickAsync();
        await page.Locator("[data-name=kilograms]").Nth(0).FillAsync("10");
        await page.Locator("[data-name=kilograms]").Nth(1).FillAsync("20");
        foreach ((string field, string value) in ((string, string)[])[("steps", "3"), ("preloads", "1"), ("rising", "1"), ("falling", "0"),
            ("dwell", "0"), ("zero-return", "0"), ("warm-up", "1")])
            await page.Locator("#" + field).FillAsync(value);
        await page.Locator("summary").ClickAsync();
        await page.Locator("#full-scale").FillAsync("220.5");
        await page.Locator("#weights-read").CheckAsync();
        await page.Locator("#setup button[type=submit]").ClickAsync();
        // The preload is all there is: 30 kg in the air at 52.2° north, 34 m (9.8126 m/s²), pull with 294.33 N, that is 66.17 lbf.
        await Expect(page.Locator("#wanted")).ToHaveTextAsync(new System.Text.RegularExpressions.Regex("^66\\.169\u202flbf$"));
        await Expect(page.Locator("#instruction")).ToContainTextAsync("(66.17 lbf)");
        await Expect(page.Locator("#guide-unit")).ToHaveTextAsync("counts"); // There is no curve yet.
        for (int i = 0; i < 100 && host.Data.Guides.IsEmpty; i++) await page.WaitForTimeoutAsync(50);
        Assert.Matches("\"FullScaleNewtons\":980\\.8(32|33)", host.Data.Guides.Values.Single());
        if (Environment.GetEnvironmentVariable("RIGDAQ_PICTURES") is { Length: > 0 } folder)
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, "calibrate-imperial.png") });
    }

    [Fact]
    public async Task A_kilogram_force_is_named_as_a_force()
    {
        await using PageHost host = await PageHost.StartAsync(units: Units.Of("kgf", "N/mm²", "mm"));
        host.Rig.Hang(980.665);
        IPage page = await browser.OpenAsync(host.KeyedUrl);
        await Expect(page.Locator("#force")).ToHaveTextAsync(new System.Text.RegularExpressions.Regex(@"^(99\.9|100\.0)\d$"));
        await Expect(page.Locator("#force-unit")).ToHaveTextAsync("kgf");
        await Expect(page.Locator("#force-unit")).ToHaveAttributeAsync("title", "kilogram-force: a force, not a mass");
        await Expect(page.Locator("#groups")).ToContainTextAsync("Mean, N/mm²");
    }
}
