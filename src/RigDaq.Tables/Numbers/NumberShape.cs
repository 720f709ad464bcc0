using System.Buffers;

namespace RigDaq.Tables.Numbers;

/// <summary>What the marks in a number tell about how numbers are written in its file.</summary>
[Flags]
internal enum NumberEvidence
{
    /// <summary>No number.</summary>
    None = 0,

    /// <summary>A number.</summary>
    Number = 1,

    /// <summary>A comma that can only stand before decimals.</summary>
    CommaDecimal = 2,

    /// <summary>A comma that can only group thousands.</summary>
    CommaGroups = 4,

    /// <summary>A point that can only stand before decimals.</summary>
    PointDecimal = 8,

    /// <summary>A point that can only group thousands.</summary>
    PointGroups = 16,

    /// <summary>A comma before exactly three digits: either.</summary>
    CommaEither = 32,

    /// <summary>A point before exactly three digits: either.</summary>
    PointEither = 64,

    /// <summary>Digits alone, four or more of them: thousands are not grouped.</summary>
    LongInteger = 128,

    /// <summary>A time of day.</summary>
    Clock = 256,
}

/// <summary>Looks at a cell without knowing yet how numbers are written.</summary>
internal static class NumberShape
{
    private static readonly SearchValues<char> Plain = SearchValues.Create("0123456789,.");

    /// <summary>What the cell tells; none where it is no number under any way of writing.</summary>
    public static NumberEvidence Of(ReadOnlySpan<char> cell)
    {
        if (cell.IsEmpty) return NumberEvidence.None;
        if (ClockTime.Looks(cell)) return NumberEvidence.Number | NumberEvidence.Clock;
        ReadOnlySpan<char> body = Unsigned(cell);
        int exponent = ExponentAt(body);
        bool hasExponent = exponent < body.Length;
        if (hasExponent && !IsExponent(body[exponent..])) return NumberEvidence.None;
        body = body[..exponent];
        int commas = body.Count(','), points = body.Count('.');
        int digits = 0;
        foreach (char letter in body)
        {
            if (char.IsAsciiDigit(letter)) digits++;
            else if (letter is not (',' or '.') && !IsGrouping(letter)) return NumberEvidence.None;
        }

        if (digits == 0) return NumberEvidence.None;
        int lastComma = body.LastIndexOf(','), lastPoint = body.LastIndexOf('.');
        if (commas > 0 && points > 0)
        {
            char last = lastComma > lastPoint ? ',' : '.';
            return NumberReader.TryParse(cell, last, out _)
                ? NumberEvidence.Number | (last == ',' ? NumberEvidence.CommaDecimal | NumberEvidence.PointGroups
                    : NumberEvidence.PointDecimal | NumberEvidence.CommaGroups)
                : NumberEvidence.None;
        }

        if (commas + points == 0)
            return NumberReader.TryParse(cell, '.', out _)
            ? NumberEvidence.Number | (digits == body.Length && digits > 3 ? NumberEvidence.LongInteger : 0) : NumberEvidence.None;
        return OneKind(cell, body, commas > 0, commas + points, commas > 0 ? lastComma : lastPoint, hasExponent);
    }

    private static NumberEvidence OneKind(ReadOnlySpan<char> cell, ReadOnlySpan<char> body, bool comma, int marks, int last,
        bool hasExponent)
    {
        if (marks > 1)
            return NumberReader.TryParse(cell, comma ? '.' : ',', out _)
                ? NumberEvidence.Number | (comma ? NumberEvidence.CommaGroups : NumberEvidence.PointGroups) : NumberEvidence.None;
        if (!NumberReader.TryParse(cell, comma ? ',' : '.', out _)) return NumberEvidence.None;
        bool either = !hasExponent && body.Length - last - 1 == 3 && last is >= 1 and <= 3 && body[0] != '0'
            && !body.ContainsAnyExcept(Plain);
        return NumberEvidence.Number | (either, comma) switch
        {
            (true, true) => NumberEvidence.CommaEither,
            (true, false) => NumberEvidence.PointEither,
            (false, true) => NumberEvidence.CommaDecimal,
            (false, false) => NumberEvidence.PointDecimal,
        };
    }

    /// <summary>Blanks and apostrophes that group digits.</summary>
    internal static bool IsGrouping(char letter) => letter is ' ' or '\u00a0' or '\u202f' or '\u2009' or '\'' or '\u2019';

    /// <summary>The cell without its sign.</summary>
    internal static ReadOnlySpan<char> Unsigned(ReadOnlySpan<char> cell) =>
        cell.Length > 1 && cell[0] is '+' or '-' or '\u2212' ? cell[1..].TrimStart() : cell;

    /// <summary>Where the exponent begins; the length where there is none.</summary>
    internal static int ExponentAt(ReadOnlySpan<char> body)
    {
        int at = body.IndexOfAny('e', 'E');
        return at < 0 ? body.Length : at;
    }

    private static bool IsExponent(ReadOnlySpan<char> text)
    {
        ReadOnlySpan<char> digits = text.Length > 1 && text[1] is '+' or '-' or '\u2212' ? text[2..] : text[1..];
        return digits.Length is > 0 and <= 5 && digits.IndexOfAnyExceptInRange('0', '9') < 0;
    }
}
