using System.Text.RegularExpressions;

namespace RigDaq.Daemon.Tests.House;

/// <summary>
/// A file holds one idea and is named for it: the type of its name, and else only what belongs to that one. What belongs is named by it, is
/// a case of it, or bears its name.
/// </summary>
public sealed partial class OneIdeaTest
{
    public static TheoryData<string> Rooms =>
        [.. Directory.EnumerateDirectories(Path.Combine(Page.Root(), "src")).Select(folder => Path.GetFileName(folder)!)];

    [Theory]
    [MemberData(nameof(Rooms))]
    public void A_file_holds_one_idea_and_is_named_for_it(string room)
    {
        string folder = Path.Combine(Page.Root(), "src", room);
        string[] mixed = [.. Directory.EnumerateFiles(folder, "*.cs", SearchOption.AllDirectories)
            .Where(file => !Path.GetRelativePath(folder, file).Replace('\\', '/').Split('/').Any(part => part is "obj" or "bin"))
            .SelectMany(file => Strangers(Path.GetFileName(file).Split('.')[0], File.ReadAllText(file))
                .Select(type => $"{Path.GetFileName(file)}: {type}"))];
        Assert.Empty(mixed);
    }

    // The guard itself: it would see what it is there to see.
    [Theory]
    [InlineData("public sealed record Pull(Head Head);\npublic sealed record Head(string Id);", "")]
    [InlineData("public sealed record Pull(string Id);\npublic sealed record Head(string Id);", "Head")]
    [InlineData("public abstract record Pull;\ninternal sealed record Head(int A) : Pull;", "")]
    [InlineData("public enum Pull\n{\n    None,\n}\n\npublic static class PullWords\n{\n}", "")]
    [InlineData("public enum Push\n{\n    None,\n}", "Push")]
    public void The_guard_sees_strangers(string text, string strangers)
        => Assert.Equal(strangers, string.Join(' ', Strangers("Pull", text)));

    private static IEnumerable<string> Strangers(string name, string text)
    {
        string code = Comment().Replace(text, "");
        Match[] declared = Declared().Matches(code).ToArray();
        (string Type, string Code)[] types =
        [
            .. declared
                .Select((match, i) => (match.Groups["type"].Value,
                code[match.Index..(i + 1 < declared.Length ? declared[i + 1].Index : code.Length)])),
        ];
        HashSet<string> family = [.. types.Select(type => type.Type).Where(type => type == name)];
        int before;
        do
        {
            before = family.Count;
            string known = string.Join('\n', types.Where(type => family.Contains(type.Type)).Select(type => type.Code));
            family.UnionWith(types.Select(type => type.Type).Where(type => Names(known, type)));
            family.UnionWith(types
                .Where(type => family.Any(one => IsCaseOf(type.Code, one) || type.Type.StartsWith(one, StringComparison.Ordinal)))
                .Select(type => type.Type).ToArray());
        }
        while (family.Count > before);

        return types.Select(type => type.Type).Where(type => !family.Contains(type)).Distinct();
    }

    private static bool Names(string code, string type) => Regex.IsMatch(code, $@"\b{type}\b");

    private static bool IsCaseOf(string code, string type)
        => Regex.IsMatch(code.Split('{', ';')[0], $@":\s.*\b{type}\b", RegexOptions.Singleline);

    [GeneratedRegex(@"^\s*//.*$", RegexOptions.Multiline)]
    private static partial Regex Comment();

    [GeneratedRegex(
        @"^(?:public|internal)\s+(?:(?:static|sealed|abstract|partial|readonly|ref|unsafe)\s+)*(?:record(?: struct| class)?|class|struct|interface|enum|delegate \S+)\s+(?<type>\w+)",
        RegexOptions.Multiline)]
    private static partial Regex Declared();
}
