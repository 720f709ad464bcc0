using System.Text.RegularExpressions;

namespace RigDaq.Daemon.Tests.House;

/// <summary>A line of C# has 140 characters at the most (.editorconfig), but for what stands in a string and cannot be parted.</summary>
public sealed partial class LineLengthTest
{
    private const int CharactersMax = 140;

    [Fact]
    public void No_line_is_longer_than_it_may_be()
    {
        string[] rooms = ["src", "tests", "tools"];
        List<string> longer = [];
        foreach (string file in rooms
            .SelectMany(room => Directory.EnumerateFiles(Path.Combine(Page.Root(), room), "*.cs", SearchOption.AllDirectories)))
        {
            if (file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal)) continue;
            bool isRaw = false;
            int number = 0;
            foreach (string line in File.ReadLines(file))
            {
                number++;
                if (Quotes().Count(line) % 2 == 1) isRaw = !isRaw;
                else if (!isRaw && IsTooLong(line)) longer.Add($"{Path.GetRelativePath(Page.Root(), file)}:{number}: {line.Length}");
            }
        }

        Assert.Empty(longer);
    }

    [Fact] // The guard itself.
    public void A_string_may_be_as_long_as_it_has_to_be()
    {
        Assert.True(IsTooLong("        Call(" + string.Join(", ", Enumerable.Repeat("argument", 20)) + ");"));
        Assert.False(IsTooLong("        Call(\"" + new string('a', 200) + "\");"));
    }

    // What is left when strings are taken out, those in a place of another one first.
    private static bool IsTooLong(string line)
    {
        if (line.Length <= CharactersMax) return false;
        string left = line;
        while (left.Length > CharactersMax && Text().Match(left) is { Success: true } text) left = left.Remove(text.Index, text.Length);
        return left.Length > CharactersMax;
    }

    // Where a string of several lines begins or ends.
    [GeneratedRegex("\"{3}")]
    private static partial Regex Quotes();

    [GeneratedRegex("""(?:\$*@?"{3}.*?"{3}|\$?@?"(?:\\.|\{[^{}"]*\}|[^"\\{}]|\{\{|\}\})*"|"(?:\\.|[^"\\])*")""")]
    private static partial Regex Text();
}
