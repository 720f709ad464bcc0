using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;
using RigDaq.Tests.Shared;

namespace RigDaq.Reports.Tests.Text;

/// <summary>Whatever a person reads in a report is written in the Text room, so that it can be translated there and nowhere else.</summary>
public sealed partial class OnePlaceTest
{
    public static TheoryData<string> Rooms => ["Document", "Pictures", "Html", "Pdf", "Labels", "Model"];

    [Theory]
    [MemberData(nameof(Rooms))]
    public void No_word_for_people_stands_outside_the_text_room(string room)
    {
        var found = new List<string>();
        string[] files = Directory.GetFiles(Path.Combine(Source(), room), "*.cs");
        Assert.NotEmpty(files);
        foreach (string file in files)
        {
            foreach (string line in File.ReadLines(file).Where(SourceText.IsCode))
            {
                foreach (string literal in SourceText.Literals(line).Where(literal => IsWords(literal, room)))
                    found.Add($"{Path.GetFileName(file)}: {literal}");
            }
        }

        Assert.Empty(found);
    }

    // The guard itself: it would see what it is there to see.
    [Theory]
    [InlineData("new(\"mean, MPa\", true)", true)]
    [InlineData("new Heading(\"Figures\")", true)]
    [InlineData("facts.Add((\"by\", name))", true)]
    [InlineData("$\"{Join(a, \", \")} of {all}\"", true)]
    [InlineData("$\"{low} to {high}\"", true)]
    [InlineData("string.Join(\", \", parts) + \"\\n\"", false)]
    [InlineData("value.ToString(\"F1\", x)", false)]
    public void The_guard_sees_words(string line, bool expected) =>
        Assert.Equal(expected, SourceText.Literals(line).Any(literal => IsWords(literal, "Document")));

    private static bool IsWords(string literal, string room)
    {
        string text = room == "Html" ? Tag().Replace(literal, " ") : literal;
        // Names of files, colours, fonts, tags.
        if (room is not "Document" and not "Labels" && NameOfThing().IsMatch(text.Trim())) return false;
        if (room is "Html" or "Pdf" && NameForTheProgram().IsMatch(text.Trim())) return false;
        return SourceText.HasWord(text);
    }

    private static string Source([CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", "..", "src", "RigDaq.Reports"));

    // Whole tags, and the halves that a text is glued together from.
    [GeneratedRegex("""</?[A-Za-z!][^>]*>?|^[^<>]*>|\b[a-z-]+\s?=\s[a-z]*\s?|&\w+;""")]
    private static partial Regex Tag();

    [GeneratedRegex("""^(?:[a-z]+(?:-[a-z]+)*-|change(?:-by-setting)?|control|earlier|strength(?:-by-condition)?|retained|manner|uncertainty|svg|rect|width|height|fill|http:.*|#[0-9a-f]{6}|--[a-z-]+|font-family=.*|<svg.*|</svg>|viewBox.*|url\(.*|xlink:.*|.*var\(.*)$""")]
    private static partial Regex NameOfThing();

    [GeneratedRegex("""^[a-z]+(?:\.[a-z]+)?$""")]
    private static partial Regex NameForTheProgram();
}
