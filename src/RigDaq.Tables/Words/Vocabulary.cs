using System.Reflection;

namespace RigDaq.Tables.Words;

/// <summary>What a word in a header says.</summary>
internal enum WordKind
{
    None,
    Force,
    Counts,
    Time,
    Position,

    /// <summary>A crosshead, a grip: it says whose position, and a position only where no other word says what.</summary>
    Carrier,

    /// <summary>A strain or an extension: a position where it has a unit of length.</summary>
    Strain,
    Curve,
    Index,

    /// <summary>Something else that a machine records: a stress, a temperature, a speed.</summary>
    Other,
}

/// <summary>The words by which columns are headed, in the languages of such files: common practice of the trade, no source; collected by
/// us, trade words only.</summary>
internal static class Vocabulary
{
    private const char SuffixMark = '-';
    private const char AnywhereMark = '*';

    private static readonly Dictionary<string, WordKind> Words = new(StringComparer.Ordinal);
    private static readonly List<(string Word, WordKind Kind)> Suffixes = [];
    private static readonly List<(string Word, WordKind Kind)> Anywhere = [];

    static Vocabulary()
    {
        foreach (string[] cells in Table("words"))
        {
            foreach (string word in cells[1..])
            {
                if (cells[0] == nameof(Missing)) Missing.Add(word);
                else Add(word, Enum.Parse<WordKind>(cells[0]));
            }
        }
    }

    /// <summary>What stands in a cell without a value.</summary>
    public static HashSet<string> Missing { get; } = new(StringComparer.Ordinal);

    /// <summary>What a header says, and by which word.</summary>
    /// <param name="header">Its text, the unit may be in it.</param>
    public static (WordKind Kind, string Word) Of(string header)
    {
        string lower = header.ToLowerInvariant();
        (WordKind Kind, string Word) found = (WordKind.None, "");
        foreach (string token in Tokens(lower))
        {
            WordKind kind = OfToken(token);
            // What a machine records besides is said by any word; of two others the later one says what, a carrier only whose.
            if (kind == WordKind.Other) return (kind, token);
            if (kind == WordKind.None || (kind == WordKind.Carrier && found.Kind != WordKind.None)) continue;
            if (found.Kind is WordKind.None or WordKind.Carrier || (found.Kind, kind) is (WordKind.Index, WordKind.Curve)
                || kind is not (WordKind.Curve or WordKind.Index)) found = (kind, token);
        }

        if (found.Kind != WordKind.None) return found;
        foreach ((string word, WordKind kind) in Anywhere)
        {
            if (lower.Contains(word, StringComparison.Ordinal)) return (kind, word);
        }

        return found;
    }

    /// <summary>The letters of a text in runs.</summary>
    internal static IEnumerable<string> Tokens(string text)
    {
        int start = -1;
        for (int i = 0; i <= text.Length; i++)
        {
            bool inside = i < text.Length && (char.IsLetter(text[i]) || text[i] is '#' or '°');
            if (inside && start < 0) start = i;
            if (inside || start < 0) continue;
            yield return text[start..i];
            start = -1;
        }
    }

    /// <summary>The lines of an embedded table, cells parted by tabs; lines that begin with # are remarks.</summary>
    internal static IEnumerable<string[]> Table(string name)
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream($"{name}.tsv")!;
        using var reader = new StreamReader(stream);
        while (reader.ReadLine() is { } line)
        {
            if (line.Length > 0 && line[0] != '#') yield return line.Split('\t', StringSplitOptions.RemoveEmptyEntries);
        }
    }

    private static void Add(string word, WordKind kind)
    {
        if (word[0] == SuffixMark) Suffixes.Add((word[1..], kind));
        else if (word[0] == AnywhereMark) Anywhere.Add((word[1..], kind));
        else Words.Add(word, kind);
    }

    private static WordKind OfToken(string token)
    {
        if (Words.TryGetValue(token, out WordKind kind)) return kind;
        foreach ((string word, WordKind suffixKind) in Suffixes)
        {
            if (token.EndsWith(word, StringComparison.Ordinal)) return suffixKind;
        }

        return WordKind.None;
    }
}
