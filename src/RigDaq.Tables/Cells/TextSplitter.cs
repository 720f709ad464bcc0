using RigDaq.Tables.Readings;

namespace RigDaq.Tables.Cells;

/// <summary>Splits text into cells. Quotation marks work as in RFC 4180 where they enclose a whole cell; one that does not (an inch sign)
/// is a character like others, so that it never swallows the rest of a file.</summary>
internal static class TextSplitter
{
    /// <summary>Stands for runs of blanks and tabs.</summary>
    public const char Blanks = ' ';

    /// <param name="text">The file's text.</param>
    /// <param name="separator">Between cells.</param>
    /// <param name="linesMax">So many rows at most.</param>
    public static Grid Split(string text, char separator, int linesMax = int.MaxValue)
    {
        var grid = new Grid(text);
        int at = 0, line = 1;
        while (at < text.Length && grid.Rows < linesMax)
        {
            grid.BeginRow(line);
            at = Row(text, at, separator, grid, ref line);
        }

        return grid;
    }

    private static int Row(string text, int at, char separator, Grid grid, ref int line)
    {
        while (true)
        {
            while (at < text.Length && IsBlank(text[at], separator)) at++;
            if (separator == Blanks && (at >= text.Length || IsEnd(text[at]))) return AfterEnd(text, at, ref line);
            int close = at < text.Length && text[at] == '"' ? Closing(text, at, separator) : -1;
            if (close >= 0)
            {
                grid.Add(at + 1, close - at - 1);
                line += LineBreaks(text.AsSpan(at, close - at));
                at = close + 1;
                while (at < text.Length && IsBlank(text[at], separator)) at++;
            }
            else
            {
                int start = at;
                while (at < text.Length && !IsEnd(text[at]) && !IsBetween(text[at], separator)) at++;
                grid.Add(start, at - start);
            }

            if (at >= text.Length || IsEnd(text[at])) return AfterEnd(text, at, ref line);
            if (separator != Blanks) at++;
        }
    }

    // Where the mark that closes a cell stands; -1 where no mark closes it before a separator or an end.
    private static int Closing(string text, int open, char separator)
    {
        int last = Math.Min(text.Length, open + TableLimits.QuotedMax);
        for (int at = open + 1; at < last; at++)
        {
            if (text[at] != '"') continue;
            if (at + 1 < text.Length && text[at + 1] == '"')
            {
                at++;
                continue;
            }

            int after = at + 1;
            while (after < text.Length && IsBlank(text[after], separator) && separator != Blanks) after++;
            return after >= text.Length || IsEnd(text[after]) || IsBetween(text[after], separator) ? at : -1;
        }

        return -1;
    }

    private static int AfterEnd(string text, int at, ref int line)
    {
        line++;
        if (at >= text.Length) return at;
        return text[at] == '\r' && at + 1 < text.Length && text[at + 1] == '\n' ? at + 2 : at + 1;
    }

    private static int LineBreaks(ReadOnlySpan<char> cell)
    {
        int breaks = 0;
        for (int i = 0; i < cell.Length; i++)
        {
            if (cell[i] == '\n' || (cell[i] == '\r' && (i + 1 >= cell.Length || cell[i + 1] != '\n'))) breaks++;
        }

        return breaks;
    }

    private static bool IsEnd(char letter) => letter is '\n' or '\r';

    private static bool IsBlank(char letter, char separator) => letter == ' ' || (letter == '\t' && separator != '\t');

    private static bool IsBetween(char letter, char separator) => separator == Blanks ? letter is ' ' or '\t' : letter == separator;
}
