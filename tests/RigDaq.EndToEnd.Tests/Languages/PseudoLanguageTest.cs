using System.CommandLine;
using System.CommandLine.Help;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using RigDaq.EndToEnd.Tests.Dashboard;
using RigDaq.EndToEnd.Tests.Support;
using RigDaq.Text;
using static Microsoft.Playwright.Assertions;

namespace RigDaq.EndToEnd.Tests.Languages;

/// <summary>
/// Every page, report and command in English that is accented, a third longer and in brackets: what is not accented cannot be translated,
/// what has too little room is cut off, and what has a bracket in its middle was put together from pieces. The pictures are left in
/// artifacts/pseudo-language of the working copy for a person to look at.
/// </summary>
public sealed partial class PseudoLanguageTest(Browser browser) : IClassFixture<Browser>
{
    private const int Breaks = 12;
    private const float EndedMilliseconds = 120_000;

    private static readonly TimeSpan Bound = TimeSpan.FromSeconds(60);
    private static readonly int[] Widths = [1440, 390];
    private static readonly Dictionary<string, string> Pseudo = new() { [Language.EnvironmentVariable] = Language.Pseudo.Name };
    private static readonly string Look = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "look.js"));
    private static readonly string Folder = Pictures();

    private readonly SortedSet<string> _faults = new(StringComparer.Ordinal);

    [Fact]
    public async Task Every_page_report_and_command_over_the_demo_speaks_another_language()
    {
        Browser.RequireInstalled();
        using var data = new TemporaryFolder();
        string[] line = ["demo", "--data", data.Path, "--http", "0", "--mqtt", "0", "--breaks", $"{Breaks}", "--time-scale", "20",
            "--in-process"];
        await using (RigdaqProcess demo = RigdaqProcess.StartWith(Pseudo, line))
        {
            string address = (await demo.SaysAsync(Address(), Bound)).Groups[1].Value;
            await PagesAsync(new Uri(address));
            Hold("demo", demo.Errors);
            await demo.SignalAsync("-TERM"); // What starts tests may have left Ctrl-C ignored.
            await demo.ExitAsync(Bound);
        }

        await CommandsAsync(data);
        Tell();
    }

    [Fact]
    public void Every_command_is_described_in_another_language()
    {
        var commands = new PseudoCommands();
        Describe(commands.Root(), "rigdaq");
        commands.Unload();
        Tell();

        void Describe(Command command, string name)
        {
            Hold(name, command.Description ?? name);
            foreach (Symbol each in command.Arguments.Concat<Symbol>(command.Options))
            {
                // The library's own two options speak in the library's own translations.
                if (each is not HelpOption and not VersionOption) Hold($"{name} {each.Name}", each.Description ?? each.Name);
            }

            foreach (Command inner in command.Subcommands) Describe(inner, $"{name} {inner.Name}");
        }
    }

    private async Task PagesAsync(Uri address)
    {
        IPage page = await browser.OpenAsync(address, reducedMotion: true);
        await Expect(page.Locator("#stage-band[data-stage='pulling']")).ToBeVisibleAsync(new() { Timeout = EndedMilliseconds });
        await LookAsync(page, "dashboard-pulling");
        foreach (string name in (string[])["calibrate", "sections", "curves", "uncertainty", "access", "journal", "login", "onlook"])
        {
            await page.GotoAsync(new Uri(address, $"/{name}.html").ToString());
            await LookAsync(page, name);
        }

        await page.GotoAsync(new Uri(address, "/").ToString());
        await Expect(page.Locator("#count-broken")).ToHaveTextAsync($"{Breaks}", new() { Timeout = EndedMilliseconds });
        await LookAsync(page, "dashboard-finished");
        await page.GotoAsync(new Uri(address, "/run.html").ToString());
        await LookAsync(page, "runs");
        await page.Locator("main tbody a").First.ClickAsync();
        await LookAsync(page, "run");
        await page.GotoAsync(new Uri(address, "/studies.html").ToString());
        await page.Locator("#studies a, #studies button").First.ClickAsync();
        await Expect(page.Locator("#study")).ToBeVisibleAsync();
        await LookAsync(page, "study");
        string report = new Uri(address, await page.Locator("#report").GetAttributeAsync("href")).ToString();
        await page.GotoAsync(report);
        await LookAsync(page, "report");
        await page.GotoAsync(report.Replace("/report/", "/picture/", StringComparison.Ordinal));
        string[] said = await page.EvaluateAsync<string[]>("[...document.querySelectorAll('text, title, desc')].map(e => e.textContent)");
        foreach (string text in said) Hold("picture", text);
    }

    private async Task LookAsync(IPage page, string name)
    {
        // Boxes that can be opened are: what nobody opens is cut off as well.
        await page.EvaluateAsync("document.querySelectorAll('details').forEach(box => { box.open = true; })");
        foreach (int width in Widths)
        {
            await page.SetViewportSizeAsync(width, 900);
            await page.WaitForTimeoutAsync(300); // A browser lays out, and draws what the page asked for, in wall time.
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(Folder, $"{name}-{width}.png"), FullPage = true });
            using JsonDocument seen = JsonDocument.Parse(await page.EvaluateAsync<string>(Look));
            foreach (JsonElement text in seen.RootElement.GetProperty("texts").EnumerateArray())
                Hold($"{name} {text.GetProperty("place").GetString()}", text.GetProperty("text").GetString()!);
            foreach (JsonElement cut in seen.RootElement.GetProperty("cut").EnumerateArray())
                _faults.Add($"cut off, {name} at {width}: {cut.GetString()}");
        }
    }

    private async Task CommandsAsync(TemporaryFolder data)
    {
        using var outs = new TemporaryFolder();
        string study = JsonDocument.Parse((await RunAsync("study", "list", "--json")).Output).RootElement
            .GetProperty("studies")[0].GetProperty("id").GetString()!;
        foreach (string line in (string[])[
            "study list", "study show STUDY", "study plan STUDY", "study history STUDY", "study earlier", "report STUDY --out report.pdf",
                "pictures STUDY --out drawn", "export STUDY --out package", "backup --out copy", "rebuild", "check",
                "report nosuch --out x.pdf"])
        {
            string[] words = [.. line.Split(' ').Select(word => word == "STUDY" ? study
                : line.EndsWith($"--out {word}", StringComparison.Ordinal) ? outs[word] : word)];
            (string output, string errors) = await RunAsync(words);
            Hold(line, output + errors);
        }

        async Task<(string Output, string Errors)> RunAsync(params string[] words)
        {
            await using RigdaqProcess process = RigdaqProcess.StartWith(Pseudo, [.. words, "--data", data.Path]);
            await process.ExitAsync(Bound);
            return (process.Output, process.Errors);
        }
    }

    /// <summary>Holds what was printed, a line a text.</summary>
    private void Hold(string place, string said)
    {
        foreach (string text in said.Split('\n').Select(line => line.Trim()).Where(line => line.Length > 0))
        {
            string[] words = [.. SaidText.NotAccented(text)];
            if (words.Length > 0) _faults.Add($"not translated, {place}: {string.Join(", ", words)}: {text}");
            if (SaidText.IsPieced(text)) _faults.Add($"in pieces, {place}: {text}");
        }
    }

    private void Tell()
    {
        if (_faults.Count > 0) File.WriteAllLines(Path.Combine(Folder, $"faults-{_faults.Count}.txt"), _faults);
        Assert.True(_faults.Count == 0, $"{_faults.Count}; pictures: {Folder}\n{string.Join('\n', _faults)}");
    }

    private static string Pictures()
    {
        DirectoryInfo? root = new(AppContext.BaseDirectory);
        while (root is not null && !File.Exists(Path.Combine(root.FullName, "RigDaq.sln"))) root = root.Parent;
        return Directory.CreateDirectory(Path.Combine(root?.FullName ?? AppContext.BaseDirectory, "artifacts", "pseudo-language")).FullName;
    }

    [GeneratedRegex(@"(http://127\.0\.0\.1:\S+key=\S+)")]
    private static partial Regex Address();
}
