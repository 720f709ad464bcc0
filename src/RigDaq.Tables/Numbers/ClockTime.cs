using System.Buffers;
using RigDaq.Tables.Files;

namespace RigDaq.Tables.Numbers;

/// <summary>Times of day and running clocks: <c>h:mm:ss</c> or <c>m:ss</c>, with decimals, with or without a date before and a zone behind.
/// Only differences count, so that the date is not read; a clock that falls by more than half a day has passed midnight.</summary>
internal static class ClockTime
{
    /// <summary>A day.</summary>
    public const double DaySeconds = 86_400;

    private const int LengthMax = 40;

    private static readonly SearchValues<char> InDates = SearchValues.Create("0123456789-./ ");

    /// <summary>Whether a cell looks like one.</summary>
    public static bool Looks(ReadOnlySpan<char> cell) => cell.Length <= LengthMax && cell.Contains(':') && TryParse(cell, out _);

    /// <summary>Reads one.</summary>
    /// <param name="cell">Without blanks around it.</param>
    /// <param name="seconds">Since midnight, or since the clock started.</param>
    public static bool TryParse(ReadOnlySpan<char> cell, out double seconds)
    {
        seconds = 0;
        if (cell.Length > LengthMax) return false;
        ReadOnlySpan<char> clock = WithoutDate(cell);
        clock = WithoutHalf(clock, out double half);
        int firstColon = clock.IndexOf(':');
        if (firstColon is < 1 or > 4) return false;
        ReadOnlySpan<char> rest = clock[(firstColon + 1)..];
        int second = rest.IndexOf(':');
        if (!NumberReader.TryParse(clock[..firstColon], '.', out double first) || first < 0) return false;
        if (second < 0) return Sixty(rest, out seconds) && (seconds += 60 * first) >= 0;
        if (!Sixty(rest[..second], out double minutes) || !Sixty(rest[(second + 1)..], out double last)) return false;
        double hours = half < 0 ? first : (first % 12) + half;
        seconds = (3600 * hours) + (60 * minutes) + last;
        return true;
    }

    private static bool Sixty(ReadOnlySpan<char> text, out double value)
    {
        value = 0;
        if (text.Length < 2 || !char.IsAsciiDigit(text[0]) || !char.IsAsciiDigit(text[1])) return false;
        return NumberReader.TryParse(text, text.Contains(',') ? ',' : '.', out value) && value is >= 0 and < 61;
    }

    // What stands before the last blank or T in front of the first colon is a date.
    private static ReadOnlySpan<char> WithoutDate(ReadOnlySpan<char> cell)
    {
        int colon = cell.IndexOf(':');
        if (colon < 0) return cell;
        int between = cell[..colon].LastIndexOfAny(' ', 'T');
        if (between < 0) return cell;
        ReadOnlySpan<char> date = cell[..between].TrimEnd();
        return date.Length >= 6 && char.IsAsciiDigit(date[0]) && !date.ContainsAnyExcept(InDates) ? cell[(between + 1)..] : cell;
    }

    // Half a day for "PM", none for "AM", -1 where neither stands; a zone behind is cut off.
    private static ReadOnlySpan<char> WithoutHalf(ReadOnlySpan<char> clock, out double half)
    {
        half = -1;
        if (clock.EndsWith("PM", StringComparison.OrdinalIgnoreCase)) half = 12;
        else if (clock.EndsWith("AM", StringComparison.OrdinalIgnoreCase)) half = 0;
        if (half >= 0) return clock[..^2].TrimEnd();
        int zone = clock.IndexOfAny('Z', '+');
        return zone > 0 ? clock[..zone] : clock;
    }
}
