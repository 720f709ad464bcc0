using Microsoft.Playwright;
using RigDaq.Core.Runs;
using RigDaq.Tests.Shared;
using static Microsoft.Playwright.Assertions;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>Recordings of other programs on the page: the proposal is shown, corrected and kept, by keyboard alone where files
/// are chosen.</summary>
public sealed class CurvesPageTest(Browser browser) : IClassFixture<Browser>
{
    [Theory]
    [InlineData(1440, ColorScheme.Light)]
    [InlineData(390, ColorScheme.Dark)]
    public async Task A_file_is_read_corrected_and_saved_as_a_run(int width, ColorScheme scheme)
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        IPage page = await browser.OpenAsync(new Uri(host.KeyedUrl.ToString()
            .Replace("/#", "/curves.html#", StringComparison.Ordinal)), width, 900, scheme);
        await Expect(page.Locator("#files")).ToBeEnabledAsync();
        Assert.Empty(await page.FaultsAsync());
        await page.Locator("#files")
            .SetInputFilesAsync(new FilePayload
            {
                Name = "bench.csv",
                MimeType = "text/csv",
                Buffer = System.Text.Encoding.Latin1.GetBytes(Pull("Prüfzeit [s];Kanal 2"))
            });

        // No name and no unit says what is the force: asked for, not guessed.
        await Expect(page.Locator("#faults li")).ToContainTextAsync("no other column");
        await Expect(page.Locator("#keeping")).ToBeHiddenAsync();
        await page.Locator("#columns select").Nth(1).FocusAsync();
        await page.Keyboard.TypeAsync("force");
        await page.Keyboard.PressAsync("Tab");
        await Expect(page.Locator("#warnings li")).ToContainTextAsync("no unit for the force");
        await page.Locator("[name=forceUnit]").FillAsync("kN");
        await page.Keyboard.PressAsync("Tab");
        await Expect(page.Locator("#warnings li")).ToHaveCountAsync(0);
        await Expect(page.Locator("#curves img")).ToBeVisibleAsync();
        await Expect(page.Locator("#curves article p")).ToContainTextAsync("broken");
        Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        Assert.Empty(await page.FaultsAsync());

        foreach ((string name, string text) in ((string, string)[])[("study", "old"), ("material", "Alder"), ("condition", "dry"),
            ("width", "10 10.2"), ("thickness", "4"), ("saveLayout", "bench")])
            await page.Locator($"#keep [name={name}]").FillAsync(text);
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#kept")).ToContainTextAsync("Runs saved in the study old: 1.");
        Assert.Empty(await page.FaultsAsync());
        if (Environment.GetEnvironmentVariable("RIGDAQ_PICTURES") is { Length: > 0 } folder)
            await page.ScreenshotAsync(new PageScreenshotOptions
            {
                Path = Path.Combine(folder, $"curves-{width}.png"),
                FullPage = true
            });
        Run run = Assert.Single(host.Runs.OfStudy("old"));
        Assert.Equal("bench.csv", run.Head.Recording!.File);
        Assert.InRange(run.Reading!.PeakForceNewtons!.Value, 790_000, 810_000);
        Assert.Equal(40.4, run.Strength!.AreaSquareMillimetres, 1e-9);
        Assert.True(File.Exists(Path.Combine(host.DataFolder, "layouts", "bench.json")));
    }

    [Fact]
    public async Task Files_and_a_table_that_are_dropped_together_become_the_runs_that_its_rows_say()
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        IPage page = await browser.OpenAsync(
            new Uri(host.KeyedUrl.ToString().Replace("/#", "/curves.html#", StringComparison.Ordinal)), 1440, 900,
                ColorScheme.Light);
        await Expect(page.Locator("#files")).ToBeEnabledAsync();
        const string Rows = "file;material;condition;setting;specimen;width_mm;thickness_mm\n"
            + "a.csv;Alder;dry;210;A1;10,1 10,3;4\nb.csv;Birch;dry;;B1;10;4\nc.csv;Birch;wet;;C1;10;4\n";

        // As a person's hand does it: one drop of three files, one of them the table.
        IJSHandle carried = await page.EvaluateHandleAsync(
            """
            files => {
              const carried = new DataTransfer();
              for (const [name, text] of files) carried.items.add(new File([text], name, { type: 'text/csv' }));
              return carried;
            }
            """,
            new string[][] { ["sections.csv", Rows], ["a.csv", Pull("Zeit [s];Kraft [N]")], ["b.csv", Pull("Time [s];Force [N]")] });
        await page.DispatchEventAsync("#drop", "dragover", new { dataTransfer = carried });
        await page.DispatchEventAsync("#drop", "drop", new { dataTransfer = carried });
        await Expect(page.Locator("#chosen li")).ToHaveCountAsync(2);
        await Expect(page.Locator("#rows tr")).ToHaveCountAsync(3);
        await Expect(page.Locator("#rows tr").Nth(0)).ToContainTextAsync("Alder, dry, 210");
        await Expect(page.Locator("#rows tr").Nth(2)).ToContainTextAsync("choose this file, too");
        await Expect(page.Locator("#curves img")).ToBeVisibleAsync();
        Assert.Empty(await page.FaultsAsync());
        await page.Locator("#keep-rows [name=study]").FillAsync("old");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#rows-kept")).ToContainTextAsync("2 of 3 rows");
        if (Environment.GetEnvironmentVariable("RIGDAQ_PICTURES") is { Length: > 0 } folder)
            await page.ScreenshotAsync(new PageScreenshotOptions
            {
                Path = Path.Combine(folder, "curves-table.png"),
                FullPage = true
            });
        Run[] runs = [.. host.Runs.OfStudy("old").OrderBy(run => run.Head.SpecimenId, StringComparer.Ordinal)];
        Assert.Equal(["A1", "B1"], runs.Select(run => run.Head.SpecimenId));
        Assert.Equal([40.8, 40.0], runs.Select(run => Math.Round(run.Strength!.AreaSquareMillimetres, 9)));

        // Given once more, nothing is there twice.
        await page.Locator("#keep-rows button").ClickAsync();
        await Expect(page.Locator("#rows tr").Nth(0)).ToContainTextAsync("has every curve of a.csv already");
        Assert.Equal(2, host.Runs.OfStudy("old").Count);
        Assert.Empty(await page.FaultsAsync());
    }

    [Fact]
    public async Task Without_the_key_nothing_is_read()
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        IPage page = await browser.OpenAsync(new Uri(host.Url, "/curves.html"));
        await Expect(page.Locator("#files")).ToBeDisabledAsync();
        await Expect(page.Locator("#banners")).ToContainTextAsync("key");
        using var client = new HttpClient();
        using var body = new ByteArrayContent("t (s),F (N)\n0,1\n1,2\n"u8.ToArray());
        using HttpResponseMessage answer = await client.PostAsync(new Uri(host.Url,
            Addresses.Of("curves-keep?name=a.csv&study=s&material=m&condition=c")), body, TestContext.Current.CancellationToken);
        Assert.Equal(System.Net.HttpStatusCode.Forbidden, answer.StatusCode);
        Assert.Empty(host.Runs.OfStudy("s"));
    }

    /// <summary>200 units/s from 1 s to a break at 5 s, 100 samples/s, in tenths written with commas.</summary>
    private static string Pull(string header) => header + "\n" + string.Concat(Enumerable.Range(0, 700).Select(i =>
    {
        double time = i / 100.0, force = (time is < 1 or > 5 ? 0 : 200 * (time - 1)) + (i % 3);
        return FormattableString.Invariant($"{time:F2};{force:F2}\n").Replace('.', ',');
    }));
}
