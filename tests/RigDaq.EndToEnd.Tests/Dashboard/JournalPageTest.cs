using Microsoft.Playwright;
using RigDaq.Core.Callers;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>The page that tells in the morning what happened in the night.</summary>
public sealed class JournalPageTest(Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task It_tells_alarms_with_what_to_do_who_did_what_and_draws_the_disk()
    {
        await using PageHost host = await PageHost.StartAsync();
        DateTimeOffset now = DateTimeOffset.UtcNow;
        host.Archive.Diary.Add(new Happening
        {
            At = now.AddMinutes(-170),
            Kind = HappeningKind.Alarm,
            Code = "link lost",
            Words = "/dev/ttyACM0 went away <b>",
            Remedy = "Check the cable.",
        });
        for (int i = 0; i < 5; i++)
        {
            host.Archive.Diary.Add(new Happening
            { At = now.AddHours(i - 6), Kind = HappeningKind.Disk, Code = "disk", FreeMegabytes = 5_000 - (100 * i) });
        }

        // A command at the page is in it by the name that was said there.
        await host.PostAsync("home", "{}");
        IPage page = await browser.OpenAsync(new Uri(host.Url, "/journal.html" + host.KeyedUrl.Fragment));
        await Assertions.Expect(page.Locator("#items .deed")).ToContainTextAsync("operator");
        await Assertions.Expect(page.Locator("#items .deed")).ToContainTextAsync("found home");
        await Assertions.Expect(page.Locator("#items .alarm")).ToContainTextAsync("went away <b>");
        await Assertions.Expect(page.Locator("#items .alarm .remedy")).ToHaveTextAsync("Check the cable.");
        await Assertions.Expect(page.Locator("#disk circle")).ToHaveCountAsync(5);
        await page.Locator("#kinds input[value=alarm]").UncheckAsync();
        await Assertions.Expect(page.Locator("#items .alarm")).ToHaveCountAsync(0);
        Assert.Empty(await page.FaultsAsync());
        foreach ((int width, int height) in new[] { (1440, 900), (390, 844) })
        {
            await page.SetViewportSizeAsync(width, height);
            Assert.True(await page.EvaluateAsync<bool>("document.documentElement.scrollWidth <= innerWidth"));
            if (Environment.GetEnvironmentVariable("RIGDAQ_PICTURES") is not { Length: > 0 } folder) continue;
            string path = Path.Combine(folder, $"journal-{width}.png");
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = path, FullPage = true });
        }

        // Names and addresses are for who has the key.
        using var client = new HttpClient();
        using HttpResponseMessage keyless = await client.GetAsync(new Uri(host.Url, "/api/v1/journal"),
            TestContext.Current.CancellationToken);
        Assert.Equal(System.Net.HttpStatusCode.Forbidden, keyless.StatusCode);
    }
}
