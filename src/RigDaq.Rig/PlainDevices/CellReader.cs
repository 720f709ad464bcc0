using System.Globalization;
using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>A number found in a cell of a line.</summary>
/// <param name="Value">The number.</param>
/// <param name="Unit">The unit behind it; empty where there is none.</param>
/// <param name="Decimals">How many digits stood behind the point.</param>
internal readonly record struct CellNumber(double Value, string Unit, int Decimals);

/// <summary>Reads one cell: an optional label before a colon or equals sign, a sign, digits, an exponent, a unit. Nothing else.</summary>
internal static class CellReader
{
    // SCPI-1999 volume 1, 7.2.1.4 and 7.2.1.5: 9.9E37 stands for infinity, 9.91E37 for "not a number" (from memory).
    private const double NoNumberFrom = 9.9e37;

    /// <summary>Reads a cell, or says why it is no number.</summary>
    public static bool TryRead(ReadOnlySpan<char> cell, bool decimalComma, out CellNumber number, out Sentence why)
    {
        number = default;
        ReadOnlySpan<char> rest = WithoutLabel(cell).Trim();
        if (rest.IsEmpty)
        {
            why = RigText.CellIsEmpty;
            return false;
        }

        bool negative = rest[0] is '-' or '\u2212';
        if (negative || rest[0] == '+') rest = rest[1..].TrimStart();
        char point = decimalComma ? ',' : '.';
        int whole = Digits(rest);
        int end = whole;
        int decimals = 0;
        if (end < rest.Length && rest[end] == point)
        {
            decimals = Digits(rest[(end + 1)..]);
            end += 1 + decimals;
        }

        if (whole + decimals == 0)
        {
            why = RigText.CellIsNoNumber;
            return false;
        }

        end += Exponent(rest[end..]);
        ReadOnlySpan<char> unit = rest[end..].Trim();
        if (!IsUnit(unit))
        {
            why = !decimalComma && unit[0] == ',' ? RigText.CellHasComma
                : decimalComma && unit[0] == '.' ? RigText.CellHasPoint
                : RigText.CellHasText;
            return false;
        }

        string digits = rest[..end].ToString().Replace(',', '.');
        if (!double.TryParse(digits, NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent, CultureInfo.InvariantCulture,
            out double value) || value >= NoNumberFrom)
        {
            why = RigText.CellOverRange;
            return false;
        }

        number = new CellNumber(negative ? -value : value, unit.ToString(), decimals);
        why = Sentence.None;
        return true;
    }

    private static ReadOnlySpan<char> WithoutLabel(ReadOnlySpan<char> cell)
    {
        int mark = cell.LastIndexOfAny(':', '=');
        if (mark < 0) return cell;
        foreach (char c in cell[..mark])
        {
            if (char.IsLetter(c)) return cell[(mark + 1)..];
        }

        return cell;
    }

    private static int Digits(ReadOnlySpan<char> text)
    {
        int n = 0;
        while (n < text.Length && char.IsAsciiDigit(text[n])) n++;
        return n;
    }

    private static int Exponent(ReadOnlySpan<char> text)
    {
        if (text.Length < 2 || text[0] is not ('e' or 'E')) return 0;
        int sign = text[1] is '+' or '-' ? 1 : 0;
        int digits = Digits(text[(1 + sign)..]);
        return digits is > 0 and <= 3 ? 1 + sign + digits : 0;
    }

    private static bool IsUnit(ReadOnlySpan<char> text)
    {
        if (text.Length > 8) return false;
        foreach (char c in text)
        {
            if (!char.IsLetter(c) && c is not ('%' or '/')) return false;
        }

        return true;
    }
}
