using System.Globalization;

namespace RigDaq.Tables.Words;

/// <summary>Of what a unit is.</summary>
internal enum UnitKind
{
    Force,

    /// <summary>A mass, by which scales tell a force: what stands under it at the standard acceleration of free fall.</summary>
    Mass,
    Length,
    Time,

    /// <summary>Times of day.</summary>
    Clock,
    Other,
}

/// <summary>A unit as files write it.</summary>
/// <param name="Kind">Of what.</param>
/// <param name="Symbol">As it is shown.</param>
/// <param name="Size">In N, mm or s.</param>
internal sealed record UnitSymbol(UnitKind Kind, string Symbol, double Size)
{
    private static readonly Dictionary<string, UnitSymbol> Exact = new(StringComparer.Ordinal);
    private static readonly Dictionary<string, UnitSymbol?> AnyCase = new(StringComparer.OrdinalIgnoreCase);

    static UnitSymbol()
    {
        foreach (string[] cells in Vocabulary.Table("units"))
        {
            var unit = new UnitSymbol(Enum.Parse<UnitKind>(cells[0]), cells[2], double.Parse(cells[1], CultureInfo.InvariantCulture));
            foreach (string text in cells[2..])
            {
                Exact.TryAdd(text, unit);
                // What capitals part (mN, MN) is not told without them.
                if (!AnyCase.TryAdd(text, unit) && AnyCase[text] != unit) AnyCase[text] = null;
            }
        }
    }

    /// <summary>The unit that a text is; null where it is none.</summary>
    public static UnitSymbol? Find(ReadOnlySpan<char> text)
    {
        string symbol = text.Trim().ToString();
        if (symbol.Length is 0 or > 16) return null;
        return Exact.GetValueOrDefault(symbol) ?? AnyCase.GetValueOrDefault(symbol);
    }

    /// <summary>The units of a kind that a person may name, for messages.</summary>
    public static IEnumerable<string> Known(params UnitKind[] kinds) =>
        Exact.Values.Where(unit => kinds.Contains(unit.Kind)).Select(unit => unit.Symbol).Distinct();

    /// <summary>The unit in a header: in brackets, behind a slash or a comma, or the last word of several.</summary>
    /// <param name="header">Its text.</param>
    public static UnitSymbol? InHeader(string header)
    {
        for (int open = header.LastIndexOfAny(['(', '[', '{', '<']); open >= 0; open = open == 0 ? -1
            : header.LastIndexOfAny(['(', '[', '{', '<'], open - 1))
        {
            int close = header.IndexOfAny([')', ']', '}', '>'], open);
            if (close > open && Find(header.AsSpan((open + 1)..close)) is { } inBrackets) return inBrackets;
        }

        if (Bare(header) is { } whole) return whole;
        string[] chunks = header.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        if (chunks.Length > 1 && Bare(chunks[^1]) is { } last) return last;
        foreach (char mark in "/,;:")
        {
            int at = header.IndexOf(mark, StringComparison.Ordinal);
            if (at > 0 && Find(header.AsSpan((at + 1)..)) is { } behind) return behind;
        }

        // Names that a program made fit for itself: force_kN, Load..kN., time.ms
        string[] tokens = header.Split(['_', '.', '-', ' '], StringSplitOptions.RemoveEmptyEntries);
        return tokens.Length > 1 ? Bare(tokens[^1]) : null;
    }

    // Without brackets a unit has to be written as it is, and a single letter that is no unit of ours is a name (specimen A).
    private static UnitSymbol? Bare(string text) =>
        Exact.GetValueOrDefault(text) is { } unit && (text.Length > 1 || unit.Kind != UnitKind.Other) ? unit : null;

    /// <summary>The unit in a cell of a row of units, with or without brackets.</summary>
    public static UnitSymbol? InCell(string cell) => Find(cell.AsSpan().Trim().Trim("()[]{}<>"));
}
