using System.Text.RegularExpressions;

namespace RigDaq.Daemon.Tests.House;

/// <summary>The walk in DEVELOPERS.md is the map: each type that it names stands in the folder that it names.</summary>
public sealed partial class WalkTest
{
    [Fact]
    public void Every_type_of_the_walk_stands_in_its_folder()
    {
        (string[] Types, string Folder)[] rows = [.. File.ReadLines(Path.Combine(Page.Root(), "DEVELOPERS.md"))
            .SkipWhile(line => !line.StartsWith("| step |", StringComparison.Ordinal)).Skip(2).TakeWhile(line => line.StartsWith('|'))
            .Select(line => line.Split('|', StringSplitOptions.TrimEntries))
            .Select(cells => (cells[2].Split(',', StringSplitOptions.TrimEntries).Select(type => type.Trim('`')).ToArray(),
                cells[3].Trim('`')))];
        Assert.True(rows.Length > 10);
        foreach ((string[] types, string folder) in rows)
        {
            string[] there = [.. Directory.EnumerateFiles(Path.Combine(Page.Root(), "src", "RigDaq." + folder), "*.cs")
                .SelectMany(file => Declared().Matches(File.ReadAllText(file)).Select(match => match.Groups["type"].Value))];
            Assert.All(types, type => Assert.Contains(type, there));
        }
    }

    [GeneratedRegex(@"^(?:public|internal) [\w ]*?(?:class|record|struct|interface) (?:struct )?(?<type>\w+)", RegexOptions.Multiline)]
    private static partial Regex Declared();
}
