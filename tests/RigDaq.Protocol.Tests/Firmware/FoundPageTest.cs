using System.Text.RegularExpressions;

namespace RigDaq.Protocol.Tests.Firmware;

/// <summary>The table "What it was fooled by" of firmware-protocol/README.md names tests: each of them exists, in C or in C#, and every
/// numbered row has one.</summary>
public sealed partial class FoundPageTest
{
    [Fact]
    public void Every_test_that_the_table_names_exists()
    {
        string root = Path.GetDirectoryName(FirmwareTools.SourceFolder)!;
        string[] rows = [.. File.ReadLines(Path.Combine(FirmwareTools.SourceFolder, "README.md"))
            .SkipWhile(line => !line.StartsWith("## What it was fooled by", StringComparison.Ordinal)).Skip(1)
            .TakeWhile(line => !line.StartsWith("## ", StringComparison.Ordinal)).Where(line => NumberedRow().IsMatch(line))];
        Assert.Equal(15, rows.Length);
        string code = string.Concat(Directory.EnumerateFiles(Path.Combine(root, "tests"), "*.cs", SearchOption.AllDirectories)
            .Where(file => !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal))
            .Concat(Directory.EnumerateFiles(Path.Combine(FirmwareTools.SourceFolder, "tests"), "test_*.c")).Select(File.ReadAllText));
        foreach (string row in rows)
        {
            string[] named = [.. TestName().Matches(row).Select(m => m.Groups[1].Value)];
            Assert.True(named.Length > 0, row);
            foreach (string test in named) Assert.True(code.Contains($"RUN({test})", StringComparison.Ordinal)
                || code.Contains($" {test}(", StringComparison.Ordinal), $"There is no test {test}.");
        }
    }

    [GeneratedRegex(@"^\| \d+ \|")]
    private static partial Regex NumberedRow();

    [GeneratedRegex(@"`(\w+_\w+)`")]
    private static partial Regex TestName();
}
