using Microsoft.Playwright;
using RigDaq.Core.Specimens;
using RigDaq.Tests.Shared;
using static Microsoft.Playwright.Assertions;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>What could not be printed, prints that are one, and the plan's questions, on the page of studies.</summary>
public sealed class PrintsPageTest(Browser browser) : IClassFixture<Browser>
{
    [Theory]
    [InlineData(1440, 900, ColorScheme.Light)]
    [InlineData(390, 844, ColorScheme.Dark)]
    [InlineData(844, 390, ColorScheme.Light)]
    public async Task A_stretch_is_marked_with_a_photo_and_taken_back(int width, int height, ColorScheme scheme)
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        StretchStudy.Store(host);
        IPage page = await browser.OpenAsync(StudyPageTest.AddressOf(host.KeyedUrl), width, height, scheme);
        await Expect(page.Locator("#stretches tr").Nth(3)).ToContainTextAsync("240 °C 2 specimens, 0 pulled P04C-01 … P04C-02");
        await page.Locator("#failed-box > summary").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.Locator("#failed-print").SelectOptionAsync("P04");
        await page.Locator("#failed-setting").SelectOptionAsync(new SelectOptionValue { Label = "240 °C" });
        await page.Locator("#failed-save").ClickAsync();
        await Expect(page.Locator("#failed-answer")).ToContainTextAsync("why");
        await page.Locator("#failed-why").FillAsync("foamed in the nozzle");
        await page.Locator("#failed-tries").FillAsync("two");
        await page.Locator("#failed-save").ClickAsync();
        await Expect(page.Locator("#failed-answer")).ToContainTextAsync("“two”");
        await page.Locator("#failed-tries").FillAsync("3");
        await page.Locator("#failed-photo")
            .SetInputFilesAsync(new FilePayload { Name = "foam.jpg", MimeType = "image/jpeg", Buffer = TinyPicture.Jpeg() });
        await page.Locator("#failed-save").ClickAsync();
        await Expect(page.Locator("#stretches tr").Nth(3))
            .ToContainTextAsync("could not be printed foamed in the nozzle (3 tries) Photo of P04, 240 °C");
        Assert.NotNull(StretchStudy.Find(host).Prints[3].At(240)!.Failure!.PhotoName);
        Assert.Equal(22, StretchStudy.Find(host).Specimens.Count);
        Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        Assert.Empty(await page.FaultsAsync());
        await StudyPageTest.PicturedAsync(page, $"prints-failed-{width}");

        // The same stretch stays chosen, and can be taken back.
        await Expect(page.Locator("#failed-save")).ToContainTextAsync("after all");
        await page.Locator("#failed-specimens").FillAsync("4");
        await page.Locator("#failed-save").ClickAsync();
        await Expect(page.Locator("#stretches tr").Nth(3)).ToContainTextAsync("240 °C 4 specimens, 0 pulled");
        await Expect(page.Locator("#failed-why")).ToBeVisibleAsync();
        Assert.Equal(26, StretchStudy.Find(host).Specimens.Count);
    }

    [Fact]
    public async Task Prints_are_joined_in_the_order_in_which_they_are_chosen()
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        Study separate = StretchStudy.Store(host, separate: true);
        string[] ids = [.. separate.Prints.Where(p => p is { Material: "Alder", Condition: "fan on" }).Select(p => p.Id).Reverse()];
        IPage page = await browser.OpenAsync(StudyPageTest.AddressOf(host.KeyedUrl), 390, 844, ColorScheme.Light);
        await Expect(page.Locator("#join-box > summary")).ToBeVisibleAsync();
        await page.Locator("#join-box > summary").ClickAsync();
        foreach (string id in ids) await page.Locator($"#join-prints input[value={id}]").CheckAsync();
        await Expect(page.Locator("#join-order")).ToContainTextAsync($"{ids[0]} (240 °C), {ids[1]} (220 °C), {ids[2]} (200 °C)");
        Assert.Empty(await page.FaultsAsync());
        await StudyPageTest.PicturedAsync(page, "prints-join-390");
        await page.Locator("#join-save").ClickAsync();
        await Expect(page.Locator("#join-answer")).ToContainTextAsync("few words why");
        await page.Locator("#join-why").FillAsync("one piece");
        await page.Locator("#join-save").ClickAsync();
        await Expect(page.Locator("#join-answer")).ToContainTextAsync("are one print");
        await Expect(page.Locator("#stretches tr")).ToHaveCountAsync(10);
        Assert.Equal([240m, 220m, 200m], StretchStudy.Find(host).Prints.Single(p => p.Id == ids[0]).Stretches
            .Select(s => s.Setting!.Value));
    }

    [Theory]
    [InlineData(1440, ColorScheme.Dark)]
    [InlineData(390, ColorScheme.Light)]
    public async Task Questions_are_chosen_and_frozen_and_afterwards_want_a_reason(int width, ColorScheme scheme)
    {
        Browser.RequireInstalled();
        await using PageHost host = await PageHost.StartAsync();
        StretchStudy.Store(host);
        IPage page = await browser.OpenAsync(StudyPageTest.AddressOf(host.KeyedUrl), width, 900, scheme);
        await Expect(page.Locator("#questions-box > summary")).ToBeVisibleAsync();
        await page.Locator("#questions-box > summary").ClickAsync();
        await Expect(page.Locator("#question-list input:checked")).ToHaveCountAsync(13);
        await page.Locator("#question-list input[value='earlier study']").UncheckAsync();
        await page.Locator("#question-list input[value='share']").UncheckAsync();
        await page.Locator("#reference-material").SelectOptionAsync("Alder");
        await page.Locator("#keeps").FillAsync("85");
        await page.Locator("#questions-save").ClickAsync();
        await Expect(page.Locator("#questions-answer")).ToContainTextAsync("chosen");
        Assert.Equal((11, "Alder", 85.0), (StretchStudy.Find(host).PlannedQuestions!.Count, StretchStudy.Find(host).ReferenceMaterial,
            StretchStudy.Find(host).KeepsPercent));

        await page.Locator("#question-list input[value='keeps']").UncheckAsync(); // Not saved yet, and frozen with the plan.
        await page.Locator("#freeze").ClickAsync();
        await page.Locator("#freeze").ClickAsync();
        await Expect(page.Locator("#freeze")).ToBeHiddenAsync();
        Assert.Equal(10, StretchStudy.Find(host).PlannedQuestions!.Count);
        Assert.Empty(await page.FaultsAsync());
        Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        await StudyPageTest.PicturedAsync(page, $"questions-{width}");
        await page.Locator("#question-list input[value='keeps']").CheckAsync();
        await page.Locator("#questions-save").ClickAsync();
        await Expect(page.Locator("#questions-answer")).ToContainTextAsync("few words why");
        await Expect(page.Locator("#question-list input[value='keeps']")).ToBeCheckedAsync(); // What was refused stays as it was chosen.
        await page.Locator("#questions-why").FillAsync("asked by the printer's owner");
        await page.Locator("#questions-save").ClickAsync();
        await Expect(page.Locator("#questions-answer")).ToContainTextAsync("asked by the printer's owner");
        Assert.Equal(11, StretchStudy.Find(host).PlannedQuestions!.Count);
    }
}
