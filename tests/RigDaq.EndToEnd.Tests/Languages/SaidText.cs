using System.Buffers;
using System.Text.RegularExpressions;

namespace RigDaq.EndToEnd.Tests.Languages;

/// <summary>What is wrong with a text that a person reads in the pseudo-language.</summary>
internal static partial class SaidText
{
    // Every such letter of a resource is accented: a word that holds one came from elsewhere.
    private static readonly SearchValues<char> Plain = SearchValues.Create("aceinouyACEINOUY");

    private static readonly Regex NotTranslated = new(string.Join('|',
        File.ReadLines(Path.Combine(AppContext.BaseDirectory, "not-translated.txt")).Where(line => line.Length > 0 && line[0] != '#')));

    private static readonly Regex InPieces = new(string.Join('|',
        File.ReadLines(Path.Combine(AppContext.BaseDirectory, "in-pieces.txt")).Where(line => line.Length > 0 && line[0] != '#')));

    /// <summary>Words that no resource holds, but for those of which not-translated.txt says why they stay.</summary>
    public static IEnumerable<string> NotAccented(string text) =>
        Word().Matches(NotTranslated.Replace(text, " ")).Select(word => word.Value).Where(word => word.AsSpan().ContainsAny(Plain));

    /// <summary>Whether it was put together from pieces of a sentence, which another language would have in another order. Whole sentences
    /// one after another, and items of a list, are none.</summary>
    public static bool IsPieced(string text)
    {
        int depth = 0, end = -1;
        for (int i = 0; i < text.Length; i++)
        {
            if (text[i] == '[' && depth++ == 0 && end >= 0 && !IsSentence(text[..end])
                && !InPieces.IsMatch(text[end..Math.Min(i + 3, text.Length)])) return true;
            if (text[i] == ']' && depth > 0 && --depth == 0) end = i;
        }

        return false;
    }

    private static bool IsSentence(string said) => said.TrimEnd('~', ' ').Length is > 0 and int at && ".!?:…".Contains(said[at - 1]);

    [GeneratedRegex(@"\p{L}[\p{L}’']+")]
    private static partial Regex Word();
}
