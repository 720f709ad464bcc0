using System.Diagnostics;
using System.Text.RegularExpressions;

namespace RigDaq.Daemon.Tests.Html;

/// <summary>Pages through validators that others wrote: HTML Tidy (Debian) and the Nu Html Checker (the npm package vnu-jar).</summary>
public sealed partial class HtmlValidatorTest(WrittenPages pages) : IClassFixture<WrittenPages>
{
    private const string Tidy = "/usr/bin/tidy";

    /// <summary>The path of vnu.jar; tools/test.sh gets it where npm and Java are there.</summary>
    private const string CheckerVariable = "RIGDAQ_VNU";

    // What Tidy 5.6 (2017) warns of although the HTML standard allows it; the Nu Html Checker knows better. A dl may hold div (4.4.9), an
    // svg's title has an id as every element has, capture is the HTML Media Capture specification's, inputmode (6.8.7) and
    // aria-keyshortcuts (WAI-ARIA 1.2) are for every such element, and a tbody that a script fills may be empty.
    private static readonly string[] BehindTheStandard =
    [
        "<title> proprietary attribute \"id\"", "proprietary attribute \"capture\"", "proprietary attribute \"inputmode\"",
        "proprietary attribute \"aria-keyshortcuts\"", "missing <dd>", "missing </div> before <dt>", "inserting implicit <dl>",
            "missing </dl> before </div>",
        "trimming empty <tbody>",
    ];

    public static TheoryData<string> Names => [.. WrittenPages.Names];

    [Theory]
    [MemberData(nameof(Names))]
    public async Task Tidy_finds_no_error_and_warns_only_of_what_is_younger_than_itself(string page)
    {
        Assert.SkipUnless(File.Exists(Tidy), "tidy (Debian package tidy) is not here.");
        (_, string said) = await Run(Tidy, "-quiet", "-errors", pages.In(page));
        string[] findings = [.. said.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => Place().Replace(line, ""))];
        Assert.DoesNotContain(findings, finding => !BehindTheStandard.Any(known => finding.Contains(known, StringComparison.Ordinal)));
        // A page that is wrong is told: Tidy works.
        string wrong = pages.In("wrong-" + page);
        await File.WriteAllTextAsync(wrong, (await File.ReadAllTextAsync(pages.In(page), TestContext.Current.CancellationToken))
            .Replace("</main>", "<nonsense></main>", StringComparison.Ordinal), TestContext.Current.CancellationToken);
        Assert.Contains("nonsense", (await Run(Tidy, "-quiet", "-errors", wrong)).Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_checker_of_the_html_standard_finds_no_error()
    {
        string? jar = Environment.GetEnvironmentVariable(CheckerVariable);
        Assert.SkipUnless(File.Exists(jar), $"The Nu Html Checker is not here: {CheckerVariable} names no vnu.jar.");
        (int status, string said) =
            await Run("java", ["-Xss8m", "-jar", jar, "--errors-only", "--format", "gnu", .. WrittenPages.Names.Select(pages.In)]);
        Assert.Equal("", said);
        Assert.Equal(0, status);
    }

    private static async Task<(int Status, string Said)> Run(string program, params string[] arguments)
    {
        using Process process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardError = true })!;
        string said = await process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        return (process.ExitCode, said.Trim());
    }

    [GeneratedRegex("^line [0-9]+ column [0-9]+ - ")]
    private static partial Regex Place();
}
