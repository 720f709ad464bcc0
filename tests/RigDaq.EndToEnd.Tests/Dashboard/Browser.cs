using Microsoft.Playwright;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>Debian's browser, driven by tests; without it the tests that need it are skipped by name. Started once a class.</summary>
public sealed class Browser : IAsyncDisposable
{
    private static readonly string[] Paths = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

    private IPlaywright? _playwright;
    private IBrowser? _browser;

    /// <summary>Skips the test where there is no browser, before anything costly is started.</summary>
    public static string RequireInstalled()
    {
        string? path = Paths.FirstOrDefault(File.Exists);
        Assert.SkipUnless(path is not null, "chromium is not installed (Debian: apt-get install chromium).");
        return path!;
    }

    /// <summary>A page in a profile of its own; <paramref name="before"/> runs in it before any script of the page.</summary>
    public async Task<IPage> OpenAsync(Uri url, int width = 1440, int height = 900, ColorScheme scheme = ColorScheme.Light,
        bool reducedMotion = false,
        string? before = null)
    {
        IBrowser browser = await StartedAsync();
        IBrowserContext context = await browser.NewContextAsync(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = width, Height = height },
            ColorScheme = scheme,
            ReducedMotion = reducedMotion ? ReducedMotion.Reduce : ReducedMotion.NoPreference,
        });
        context.SetDefaultTimeout(20_000);
        IPage page = await context.NewPageAsync();
        if (before is not null) await page.AddInitScriptAsync(before);
        await page.GotoAsync(url.ToString());
        return page;
    }

    public async Task CloseAllAsync()
    {
        if (_browser is null) return;
        foreach (IBrowserContext context in _browser.Contexts.ToArray()) await context.CloseAsync();
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null) await _browser.DisposeAsync();
        _playwright?.Dispose();
    }

    private async Task<IBrowser> StartedAsync()
    {
        string path = RequireInstalled();
        // A browser on a busy machine: the library's five seconds are too few.
        Assertions.SetDefaultExpectTimeout(20_000);
        _playwright ??= await Playwright.CreateAsync();
        return _browser ??= await _playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = path,
            Args =
            [
                "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
                "--disable-component-update", "--disable-sync",
            ],
        });
    }
}
