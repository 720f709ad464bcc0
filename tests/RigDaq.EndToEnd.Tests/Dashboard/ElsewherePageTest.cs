using Microsoft.Playwright;
using RigDaq.App.Callers;
using RigDaq.App.Configuration;
using RigDaq.Rig.Sequencing;
using RigDaq.Web.Access;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>A phone and a colleague's browser, by this machine's network address, beside the rig's own page.</summary>
public sealed class ElsewherePageTest(Browser browser) : IClassFixture<Browser>
{
    private const string Password = "four plain words here";

    [Fact]
    public async Task A_phone_by_the_link_that_the_rigs_page_shows_looks_and_stops_until_the_link_is_withdrawn()
    {
        await using PageHost host = await PageHost.StartAsync(elsewhere: new HttpOptions());
        host.Rig.Set(s => s with { Sequence = FakeData.Sequence(host.Data.NextPlan()!, SequenceStage.Pulling, done: 4) });
        IPage rig = await browser.OpenAsync(new Uri(host.Url, "/access.html" + host.KeyedUrl.Fragment));
        await Assertions.Expect(rig.Locator("#links li").First).ToContainTextAsync("#look=");
        Assert.True(await rig.Locator("#qr").EvaluateAsync<bool>("image => image.decode().then(() => image.naturalWidth > 40)"));
        string link = (await rig.Locator("#links li").AllTextContentsAsync())
            .Single(each => each.Contains($"//{Elsewhere.Address}:", StringComparison.Ordinal));
        IPage phone = await browser.OpenAsync(new Uri(link), 390, 844);
        await Assertions.Expect(phone.Locator("#stage")).ToHaveTextAsync("pulling");
        await Assertions.Expect(phone.Locator("#force")).Not.ToHaveTextAsync("–");
        Assert.DoesNotContain("look=", phone.Url, StringComparison.Ordinal);
        await PictureAsync(phone, "onlook-phone");
        await phone.SetViewportSizeAsync(844, 390);
        await PictureAsync(phone, "onlook-sideways");
        await PictureAsync(rig, "access");
        Assert.Empty(await phone.FaultsAsync());
        Assert.Empty(await rig.FaultsAsync());
        // What stands elsewhere in the program is not there.
        IResponse? studies = await phone.GotoAsync(new Uri(new Uri(link), "/studies.html").ToString());
        Assert.Equal(404, studies!.Status);
        await phone.GotoAsync(new Uri(new Uri(link), "/").ToString());
        await phone.Locator("#stop").ClickAsync();
        await Assertions.Expect(phone.Locator("#stop-answer")).Not.ToHaveTextAsync("");
        Assert.Contains("stop", host.Rig.Calls);
        await rig.Locator("#withdraw").ClickAsync();
        await Assertions.Expect(phone.Locator("#banner-link")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_colleague_logs_in_and_what_they_start_is_allowed_at_the_rigs_own_page()
    {
        await using PageHost host = await PageHost.StartAsync(elsewhere: new HttpOptions());
        host.Service<AccountBook>().Make("ida", CallerRole.Operate, Password);
        IPage rig = await browser.OpenAsync(host.KeyedUrl);
        IBrowserContext far = await rig.Context.Browser!.NewContextAsync(new BrowserNewContextOptions { IgnoreHTTPSErrors = true });
        IPage colleague = await far.NewPageAsync();
        await colleague.GotoAsync($"https://{Elsewhere.Address}:{host.Elsewhere.OperatePort}/");
        await PictureAsync(colleague, "login");
        await colleague.Locator("#name").FillAsync("ida");
        await colleague.Locator("#password").FillAsync("not this one at all");
        await colleague.Locator("#password").PressAsync("Enter");
        await Assertions.Expect(colleague.Locator("#answer")).ToContainTextAsync("no account");
        await colleague.Locator("#password").FillAsync(Password);
        await colleague.Locator("#password").PressAsync("Enter");
        await Assertions.Expect(colleague.Locator("#start")).ToBeVisibleAsync();
        await colleague.Locator("#start").ClickAsync();
        await colleague.Locator("#cautions-read").CheckAsync();
        if (await colleague.Locator("#beyond").IsVisibleAsync()) await colleague.Locator("#beyond").CheckAsync();
        await colleague.Locator("#cautions-go").ClickAsync();
        await Assertions.Expect(rig.Locator("#asked")).ToContainTextAsync("ida");
        await Assertions.Expect(colleague.Locator("#asked")).ToBeHiddenAsync();
        await PictureAsync(rig, "asked");
        Assert.Empty(await rig.FaultsAsync());
        Assert.DoesNotContain(host.Rig.Calls, call => call.StartsWith("start", StringComparison.Ordinal));
        await rig.Locator("#asked button").First.ClickAsync();
        await Assertions.Expect(rig.Locator("#asked")).ToBeHiddenAsync();
        await Assertions.Expect(colleague.Locator("#answer")).Not.ToHaveTextAsync("");
        Assert.Contains(host.Rig.Calls, call => call.StartsWith("start", StringComparison.Ordinal));
    }

    private static async Task PictureAsync(IPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("RIGDAQ_PICTURES") is { Length: > 0 } folder)
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, name + ".png"), FullPage = true });
    }
}
