using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>A browser may forbid a page to keep anything (a private window, a policy): the page remembers nothing then, and
/// works.</summary>
public sealed class BlockedStorageTest(Browser browser) : IClassFixture<Browser>
{
    // What a browser does that blocks storage: to ask for it is a fault (HTML standard, 12.2.1, "SecurityError").
    private const string Blocked =
        "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('blocked', 'SecurityError'); } });";

    [Theory]
    [InlineData("", "#sound", "#force")]
    [InlineData("run.html", "#always", "#list-study")]
    [InlineData("sections.html", "#order", "#study")]
    [InlineData("calibrate.html", "#add-weight", "[data-name=kilograms]")]
    [InlineData("studies.html", "#make-name", "#studies")]
    public async Task A_page_works_where_storage_is_blocked(string path, string control, string shown)
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        IPage page = await browser.OpenAsync(
            new Uri(host.KeyedUrl.ToString().Replace("/#", $"/{path}#", StringComparison.Ordinal)), before: Blocked);
        var faults = new List<string>();
        page.PageError += (_, fault) => faults.Add(fault);
        await page.ReloadAsync();
        await Expect(page.Locator(shown).First).ToBeAttachedAsync();
        await Expect(page.Locator(shown).First).Not.ToHaveTextAsync("–");
        // What would be remembered is chosen all the same.
        await page.Locator(control).EvaluateAsync("control => { control.click?.(); control.dispatchEvent(new Event('change')); }");
        await Expect(page.Locator("#stop")).ToBeEnabledAsync();
        Assert.Equal("SecurityError",
            await page.EvaluateAsync<string>("() => { try { localStorage; return ''; } catch (fault) { return fault.name; } }"));
        Assert.Empty(faults);
    }
}
