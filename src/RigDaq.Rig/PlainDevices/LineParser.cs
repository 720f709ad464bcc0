using RigDaq.Rig.Text;
using RigDaq.Text;

namespace RigDaq.Rig.PlainDevices;

/// <summary>What a line was.</summary>
internal enum LineKind
{
    /// <summary>It carried a reading.</summary>
    Reading,

    /// <summary>It was a comment.</summary>
    Comment,

    /// <summary>It was not understood; a reading may have been lost with it.</summary>
    Refused,
}

/// <summary>A line that was read.</summary>
/// <param name="Kind">What it was.</param>
/// <param name="Counts">The force in counts, within 24 bits.</param>
/// <param name="BeyondRange">Whether the value did not fit and stands at the end of the range.</param>
/// <param name="TimeUnits">The printed time in its unit; null where none is read.</param>
/// <param name="TimeDecimals">How many digits stood behind its point.</param>
/// <param name="Why">Why it was refused; null where it was not.</param>
internal readonly record struct LineReading(LineKind Kind, int Counts = 0, bool BeyondRange = false, double? TimeUnits = null,
    int TimeDecimals = 0, Sentence? Why = null);

/// <summary>Reads a line by a format. A pure function; no line makes it fail.</summary>
internal static class LineParser
{
    /// <summary>The ends of the range of 24 bits.</summary>
    public const int CountsMax = (1 << 23) - 1;

    /// <summary>Reads a line.</summary>
    public static LineReading Read(LineFormat format, string line)
    {
        if (format.CommentPrefix.Length > 0 && line.AsSpan().TrimStart().StartsWith(format.CommentPrefix, StringComparison.Ordinal))
            return new LineReading(LineKind.Comment);
        List<string> cells = LineCells.Of(line, format.Separator);
        if (format.Columns > 0 && cells.Count != format.Columns) return Refused(RigText.OtherColumns(cells.Count, format.Columns));
        if (cells.Count < format.ForceColumn || cells.Count < format.TimeColumn) return Refused(RigText.OnlyColumns(cells.Count));
        string cell = cells[format.ForceColumn - 1];
        if (!CellReader.TryRead(cell, format.DecimalComma, out CellNumber force, out Sentence why))
            return Refused(RigText.ForceNotRead(format.ForceColumn, cell.Trim(), why));
        if (LineUnits.Factor(force.Unit, format.Quantity) is not { } factor)
            return Refused(RigText.ForceInOtherUnit(format.ForceColumn, force.Unit, format.Quantity.Word()));
        double counts = Math.Round(force.Value * factor * format.CountsPerUnitInForce, MidpointRounding.AwayFromZero);
        bool beyond = Math.Abs(counts) > CountsMax;
        var reading = new LineReading(LineKind.Reading, (int)Math.Clamp(counts, -CountsMax, CountsMax), beyond);
        if (format.TimeColumn is not { } timeColumn) return reading;
        cell = cells[timeColumn - 1];
        if (!CellReader.TryRead(cell, format.DecimalComma, out CellNumber time, out why))
            return Refused(RigText.TimeNotRead(timeColumn, cell.Trim(), why));
        if (!LineUnits.IsTime(time.Unit, format.TimeUnit))
            return Refused(RigText.TimeInOtherUnit(timeColumn, time.Unit, format.TimeUnit.Word()));
        return reading with { TimeUnits = time.Value, TimeDecimals = time.Decimals };
    }

    private static LineReading Refused(Sentence why) => new(LineKind.Refused, Why: why);
}

/// <summary>Cuts a line into its cells.</summary>
internal static class LineCells
{
    /// <summary>The cells. Between blanks, what belongs together is put together again: a sign or a label before its number, a unit behind
    /// it.</summary>
    public static List<string> Of(string line, char? separator)
    {
        if (separator is { } mark)
        {
            string[] parts = line.Split(mark);
            // Many sketches put a separator behind the last column too.
            int count = parts.Length > 1 && string.IsNullOrWhiteSpace(parts[^1]) ? parts.Length - 1 : parts.Length;
            return [.. parts[..count]];
        }

        var cells = new List<string>();
        string before = "";
        foreach (string token in line.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries))
        {
            bool opens = token is "+" or "-" || token[^1] is ':' or '=';
            if (opens)
            {
                before += token;
            }
            else if (before.Length == 0 && cells.Count > 0 && IsUnit(token) && char.IsAsciiDigit(cells[^1][^1]))
            {
                cells[^1] += " " + token;
            }
            else
            {
                cells.Add(before + token);
                before = "";
            }
        }

        if (before.Length > 0) cells.Add(before);
        return cells;
    }

    private static bool IsUnit(string token) => LineUnits.Known(token) is not null || token is "s" or "ms" or "us" or "\u00B5s";
}
