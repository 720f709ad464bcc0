using System.Text.RegularExpressions;

namespace RigDaq.Daemon.Tests.House;

/// <summary>Each text of a room is said somewhere in it, or in a room that has no texts of its own; one that nobody says is nobody's to
/// translate.</summary>
public sealed partial class TextsUsedTest
{
    [Fact]
    public void Each_text_is_said()
    {
        List<string> unsaid = [];
        string[] rooms = Directory.GetDirectories(Path.Combine(Page.Root(), "src"));
        string[] without = [.. rooms.Where(room => !File.Exists(Path.Combine(room, "Text", "en.json")))];
        foreach (string room in rooms)
        {
            string resource = Path.Combine(room, "Text", "en.json");
            if (!File.Exists(resource)) continue;
            string texts = File.ReadAllText(resource);
            HashSet<string> said =
            [
                .. without.Append(room).SelectMany(place => Directory.EnumerateFiles(place, "*.cs", SearchOption.AllDirectories))
                    .Where(file => !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}",
                        StringComparison.Ordinal))
                    .SelectMany(file => Word().Matches(File.ReadAllText(file))).Select(word => word.Value),
                .. Other().Matches(texts).Select(other => Member(other.Groups["key"].Value)),
            ];
            string[] keys = [.. Key().Matches(texts).Select(key => key.Groups["key"].Value)];
            Assert.NotEmpty(keys);
            unsaid.AddRange(keys.Where(key => !said.Contains(Member(key))).Select(key => $"{Path.GetFileName(room)}: {key}"));
        }

        Assert.Empty(unsaid);
    }

    private static string Member(string key) => char.ToUpperInvariant(key[0]) + key[1..];

    [GeneratedRegex(@"^ {4}""(?<key>\w+)[(""]", RegexOptions.Multiline)]
    private static partial Regex Key();

    [GeneratedRegex(@"\{@(?<key>\w+)\}")]
    private static partial Regex Other();

    [GeneratedRegex(@"\b[A-Z]\w+")]
    private static partial Regex Word();
}
