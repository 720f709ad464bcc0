using System.IO.Compression;
using Microsoft.Playwright;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>A study's files, made as jobs at the press of a button, with what they hold.</summary>
public sealed class DownloadsTest(Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task A_package_and_a_report_are_made_and_saved_from_the_page()
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        SectionStudy.Store(host);
        StoredRun.Store(host);
        IPage page = await browser.OpenAsync(new UriBuilder(host.KeyedUrl) { Path = "/studies.html" }.Uri);
        await page.Locator("#download-what").SelectOptionAsync("package");
        await page.Locator("#download-names").UncheckAsync();
        IDownload package = await page.RunAndWaitForDownloadAsync(() => page.Locator("#download-make").ClickAsync());
        using (ZipArchive zip = await ZipFile.OpenReadAsync(await package.PathAsync(), TestContext.Current.CancellationToken))
            Assert.Contains(zip.Entries, entry => entry.Name == "datapackage.json");
        await Assertions.Expect(page.Locator("#download-off")).ToBeHiddenAsync();
        await page.Locator("#download-what").SelectOptionAsync("html");
        IDownload report = await page.RunAndWaitForDownloadAsync(() => page.Locator("#download-make").ClickAsync());
        Assert.Contains("<html", await File.ReadAllTextAsync(await report.PathAsync(), TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
        Assert.Empty(await page.FaultsAsync());
        if (Environment.GetEnvironmentVariable("RIGDAQ_PICTURES") is { Length: > 0 } folder)
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, "downloads.png"), FullPage = true });
    }
}
