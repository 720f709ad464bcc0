using Microsoft.Playwright;
using RigDaq.Core.Quantities;
using RigDaq.EndToEnd.Tests.Support;
using RigDaq.Rig.Sequencing;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>Pictures for a person to look at; made only where RIGDAQ_PICTURES names a folder.</summary>
public sealed class ScreenshotTest(Browser browser) : IClassFixture<Browser>
{
    [Theory]
    [InlineData("desk-light", 1440, 900, ColorScheme.Light, SequenceStage.Pulling)]
    [InlineData("desk-dark", 1440, 900, ColorScheme.Dark, SequenceStage.Held)]
    [InlineData("wall-light", 3840, 2160, ColorScheme.Light, SequenceStage.Pulling)]
    [InlineData("phone-light", 360, 740, ColorScheme.Light, SequenceStage.WaitingForSpecimen)]
    [InlineData("phone-dark", 390, 844, ColorScheme.Dark, SequenceStage.Pulling)]
    [InlineData("cautions", 1440, 900, ColorScheme.Light, SequenceStage.Finished)]
    [InlineData("desk-imperial", 1440, 900, ColorScheme.Light, SequenceStage.Pulling, "lbf,psi,in")]
    [InlineData("cautions-imperial", 1440, 900, ColorScheme.Light, SequenceStage.Finished, "lbf,psi,in")]
    [InlineData("phone-kilogram-force", 390, 844, ColorScheme.Light, SequenceStage.Pulling, "kgf,N/mm2,mm")]
    public async Task A_picture_of_the_page(string name, int width, int height, ColorScheme scheme, SequenceStage stage,
        string chosen = "N,MPa,mm")
    {
        string? folder = Environment.GetEnvironmentVariable("RIGDAQ_PICTURES");
        Assert.SkipWhen(string.IsNullOrEmpty(folder), "RIGDAQ_PICTURES names no folder.");
        string[] units = chosen.Split(',');
        await using PageHost host = await PageHost.StartAsync(units: Units.Of(units[0], units[1], units[2]));
        host.Rig.Set(s => s with { Sequence = FakeData.Sequence(host.Data.NextPlan()!, stage, done: 4), LastRun = FakeData.Run("P1-04") });
        IPage page = await browser.OpenAsync(host.KeyedUrl, width, height, scheme);
        host.Rig.Load();
        await page.WaitForTimeoutAsync(3000); // A pull takes its time.
        host.Rig.Break();
        await page.WaitForTimeoutAsync(700);
        host.Rig.Load();
        await page.WaitForTimeoutAsync(1500);
        if (name.StartsWith("cautions", StringComparison.Ordinal)) await page.Locator("#start").ClickAsync();
        await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder!, name + ".png") });
        await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder!, name + "-whole.png"), FullPage = true });
    }

    [Fact]
    public async Task A_picture_of_the_running_demo()
    {
        string? folder = Environment.GetEnvironmentVariable("RIGDAQ_PICTURES");
        Assert.SkipWhen(string.IsNullOrEmpty(folder), "RIGDAQ_PICTURES names no folder.");
        using var data = new TemporaryFolder();
        await using RunningDemo demo = await RunningDemo.StartAsync(data.Path, "--breaks", "36", "--time-scale", "2");
        IPage page = await browser.OpenAsync(demo.Dashboard, 1440, 900, ColorScheme.Light);
        await Assertions.Expect(page.Locator("#count-broken")).ToHaveTextAsync("6", new() { Timeout = 180_000 });
        await Assertions.Expect(page.Locator("#stage")).ToHaveTextAsync("pulling", new() { Timeout = 60_000 });
        await page.WaitForTimeoutAsync(300); // Into the pull, so that the trace rises.
        await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder!, "dashboard.png") });
    }
}
