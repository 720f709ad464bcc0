using System.Reflection;

namespace RigDaq.Text.Tests;

/// <summary>The resources of the rooms themselves, in English and in the pseudo-language that shows what cannot be translated.</summary>
public sealed class RoomsTest
{
    private const string Pages = "the pages";

    public static TheoryData<string> Rooms =>
    [
        "RigDaq.Core", "RigDaq.Rig", "RigDaq.Archive", "RigDaq.Publishing", "RigDaq.Reports", "RigDaq.Tables", "RigDaq.App", "rigdaq", Pages,
    ];

    [Theory]
    [MemberData(nameof(Rooms))]
    public void Every_text_of_a_room_is_longer_accented_and_bracketed_in_the_pseudo_language(string room)
    {
        TextTable table = room == Pages ? new(Assembly.Load("RigDaq.App"), "Text/pages", bySection: true) : new(Assembly.Load(room));
        Assert.NotEmpty(table.Keys);
        foreach (string key in table.Keys)
        {
            Template english = table.Find(key, Language.English), pseudo = table.Find(key, Language.Pseudo);
            int letters = Words(english).Sum(words => words.Count(char.IsLetter));
            if (letters == 0) continue;
            Assert.Equal(("[", "]"), (Words(pseudo).First()[..1], Words(pseudo).Last()[^1..]));
            // A third of the letters more, and the brackets; what has few letters is a figure and its signs.
            int longer = Words(pseudo).Sum(words => words.Length) - Words(english).Sum(words => words.Length);
            Assert.True(longer >= 2 + (letters / 4), key);
            Assert.Equal(Places(english), Places(pseudo));
        }
    }

    [Fact]
    public void A_language_that_a_room_does_not_have_is_English_there()
    {
        var table = new TextTable(Assembly.Load("RigDaq.Rig"));
        string key = table.Keys.First();
        Assert.Same(table.Find(key, Language.English), table.Find(key, Language.Of("xx")));
    }

    [Fact]
    public async Task A_language_goes_with_what_is_started_and_with_nothing_else()
    {
        Task<string> other = Task.Run(() => Language.Current.Name, TestContext.Current.CancellationToken);
        using (Language.Pseudo.Speak())
        {
            Assert.Equal(Language.Pseudo.Name, await Task.Run(() => Language.Current.Name, TestContext.Current.CancellationToken));
            Assert.Equal(Language.English.Name, await other);
        }

        Assert.Same(Language.English, Language.Current);
    }

    private static IEnumerable<string> Words(Template template) =>
        template.All().Where(part => part.Kind == PartKind.Words).Select(part => part.Name);

    private static string[] Places(Template template) =>
        [.. template.All().Where(part => part.Kind != PartKind.Words).Select(part => $"{part.Kind} {part.Name} {part.Format} {part.Quantity}")];
}
