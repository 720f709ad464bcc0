using System.Globalization;
using RigDaq.Tables.Files;
using RigDaq.Tables.Words;

namespace RigDaq.Tables.Numbers;

/// <summary>Reads numbers as a file writes them: its decimal mark, thousands grouped by the other mark, by blanks or by
/// apostrophes.</summary>
internal static class NumberReader
{
    private const int LengthMax = 64;

    /// <summary>Reads a number; it may be beyond what can be computed (infinite).</summary>
    /// <param name="cell">Without blanks around it.</param>
    /// <param name="mark">Before decimals: <c>.</c> or <c>,</c>.</param>
    /// <param name="value">The number.</param>
    public static bool TryParse(ReadOnlySpan<char> cell, char mark, out double value)
    {
        value = 0;
        if (cell.IsEmpty || cell.Length > LengthMax) return false;
        ReadOnlySpan<char> unsigned = NumberShape.Unsigned(cell);
        int exponent = NumberShape.ExponentAt(unsigned);
        ReadOnlySpan<char> body = unsigned[..exponent];
        int decimals = body.IndexOf(mark);
        ReadOnlySpan<char> whole = decimals < 0 ? body : body[..decimals];
        ReadOnlySpan<char> fraction = decimals < 0 ? [] : body[(decimals + 1)..];
        if (whole.IsEmpty && fraction.IsEmpty) return false;
        if (fraction.IndexOfAnyExceptInRange('0', '9') >= 0) return false;
        Span<char> plain = stackalloc char[LengthMax + 2];
        int length = 0;
        if (unsigned.Length < cell.Length && cell[0] != '+') plain[length++] = '-';
        if (!Ungroup(whole, plain, ref length)) return false;
        if (fraction.Length > 0)
        {
            plain[length++] = '.';
            fraction.CopyTo(plain[length..]);
            length += fraction.Length;
        }

        foreach (char letter in unsigned[exponent..]) plain[length++] = letter == '\u2212' ? '-' : letter;
        return double.TryParse(plain[..length], NumberStyles.Float, CultureInfo.InvariantCulture, out value);
    }

    // Groups of exactly three digits behind one of one to three, all parted by the same mark.
    private static bool Ungroup(ReadOnlySpan<char> whole, Span<char> plain, ref int length)
    {
        int firstMark = whole.IndexOfAnyExceptInRange('0', '9');
        if (firstMark < 0)
        {
            whole.CopyTo(plain[length..]);
            length += whole.Length;
            return true;
        }

        char between = whole[firstMark];
        if (firstMark is 0 or > 3 || !(between is ',' or '.' || NumberShape.IsGrouping(between))) return false;
        int sinceMark = 0;
        for (int i = 0; i < whole.Length; i++)
        {
            if (whole[i] == between)
            {
                if (i > firstMark && sinceMark != 3) return false;
                sinceMark = 0;
            }
            else if (char.IsAsciiDigit(whole[i]))
            {
                plain[length++] = whole[i];
                sinceMark++;
            }
            else
            {
                return false;
            }
        }

        return sinceMark == 3;
    }

    /// <summary>Whether a cell says that there is no value: empty, NA, NaN, null and the like.</summary>
    public static bool IsMissing(ReadOnlySpan<char> cell) =>
        cell.IsEmpty || (cell.Length <= 5 && Vocabulary.Missing.Contains(cell.ToString().ToLowerInvariant()));
}
