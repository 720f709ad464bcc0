using System.Text;

namespace RigDaq.Text;

/// <summary>Makes the pseudo-language from English. Places to be filled in stay as they are.</summary>
internal static class PseudoLanguage
{
    private const string Plain = "aceinouyACEINOUY";
    private const string Accented = "áçéîñöüýÁÇÉÎÑÖÜÝ";

    // Of the letters: translations from English are a third longer, or more.
    private const int LettersToOneMore = 3;
    private const int WordMax = 9;

    internal static Template Of(Template english)
    {
        int letters = english.All().Where(part => part.Kind == PartKind.Words).Sum(part => part.Name.Count(char.IsLetter));
        if (letters == 0) return english;
        // In words of their own: a line breaks between them, as it does in a longer language.
        string more = string.Concat(new string('~', letters / LettersToOneMore).Chunk(WordMax).Select(word => " " + new string(word)));
        return new Template([new Part(PartKind.Words, "["), .. Inner(english).Parts, new Part(PartKind.Words, more + "]")]);
    }

    private static Template Inner(Template english) => new([.. english.Parts.Select(part => part.Kind switch
    {
        PartKind.Words => new Part(PartKind.Words, Accents(part.Name)),
        PartKind.Plural or PartKind.Select
            => new Part(part.Kind, part.Name, cases: part.Cases.ToDictionary(each => each.Key, each => Inner(each.Value))),
        _ => part,
    })]);

    private static string Accents(string words)
    {
        var to = new StringBuilder(words.Length);
        foreach (char c in words) to.Append(Plain.IndexOf(c, StringComparison.Ordinal) is >= 0 and int at ? Accented[at] : c);
        return to.ToString();
    }
}
