namespace RigDaq.Rig.PlainDevices;

/// <summary>One way to cut lines into columns, and what it makes of them.</summary>
internal sealed class LineLayout
{
    /// <summary>A column is one of numbers when this share of its cells are.</summary>
    private const double NumbersShare = 0.9;

    private LineLayout(char? separator, bool decimalComma, int columns, double share, IReadOnlyList<LineColumn> numbers)
    {
        Separator = separator;
        DecimalComma = decimalComma;
        Columns = columns;
        Share = share;
        Numbers = numbers;
    }

    public char? Separator { get; }

    public bool DecimalComma { get; }

    /// <summary>How many columns most lines have.</summary>
    public int Columns { get; }

    /// <summary>The share of lines that have so many, numbers where there should be some.</summary>
    public double Share { get; }

    /// <summary>The columns of numbers.</summary>
    public IReadOnlyList<LineColumn> Numbers { get; }

    /// <summary>The layout that makes most of the lines; the earlier of equals.</summary>
    public static LineLayout Best(IReadOnlyList<string> lines)
    {
        (char? Separator, bool Comma)[] ways = [('\t', false), (';', false), (',', false), (null, false), ('\t', true), (';', true),
            (null, true)];
        return ways.Select(way => Of(lines, way.Separator, way.Comma))
            .OrderByDescending(layout => Math.Round(layout.Share, 1)).ThenByDescending(layout => layout.Numbers.Count).First();
    }

    /// <summary>Cuts lines one way.</summary>
    public static LineLayout Of(IReadOnlyList<string> lines, char? separator, bool decimalComma)
    {
        List<List<string>> cells = [.. lines.Select(line => LineCells.Of(line, separator))];
        int columns = cells.GroupBy(row => row.Count).OrderByDescending(group => group.Count()).Select(group => group.Key).FirstOrDefault();
        List<List<string>> rows = [.. cells.Where(row => row.Count == columns)];
        var numbers = new List<LineColumn>();
        for (int i = 0; i < columns; i++)
        {
            if (LineColumn.Of(i + 1, [.. rows.Select(row => row[i])], decimalComma, NumbersShare) is { } column) numbers.Add(column);
        }

        int good = rows.Count(row => numbers.Count > 0
            && numbers.All(column => CellReader.TryRead(row[column.Number - 1], decimalComma, out _, out _)));
        return new LineLayout(separator, decimalComma, columns, lines.Count == 0 ? 0 : (double)good / lines.Count, numbers);
    }
}

/// <summary>A column of numbers.</summary>
/// <param name="Number">From 1.</param>
/// <param name="Values">Its numbers in the order of the lines.</param>
/// <param name="Decimals">The most digits behind a point.</param>
/// <param name="Unit">The unit that stands behind most of them; empty for none.</param>
internal sealed record LineColumn(int Number, IReadOnlyList<double> Values, int Decimals, string Unit)
{
    /// <summary>Fewer lines do not tell a time from a force that happens to rise.</summary>
    public const int TellingLines = 6;

    public bool IsConstant => Values.All(value => value.Equals(Values[0]));

    /// <summary>Whether the numbers only rise.</summary>
    public bool OnlyRises
    {
        get
        {
            if (Values.Count < TellingLines) return false;
            int rises = 0;
            for (int i = 1; i < Values.Count; i++)
            {
                if (Values[i] < Values[i - 1]) return false;
                if (Values[i] > Values[i - 1]) rises++;
            }

            // Two lines within one unit of a coarse time are possible, but most go up.
            return rises * 2 >= Values.Count;
        }
    }

    /// <summary>Whether they count lines.</summary>
    public bool CountsLines => Decimals == 0 && Values.Count > 1 && Values.Zip(Values.Skip(1)).All(pair => pair.Second - pair.First is 1);

    /// <summary>The mean step from line to line.</summary>
    public double Step => Values.Count < 2 ? 0 : (Values[^1] - Values[0]) / (Values.Count - 1);

    public static LineColumn? Of(int number, IReadOnlyList<string> cells, bool decimalComma, double shareMin)
    {
        var read = new List<CellNumber>();
        foreach (string cell in cells)
        {
            if (CellReader.TryRead(cell, decimalComma, out CellNumber value, out _)) read.Add(value);
        }

        if (read.Count == 0 || read.Count < shareMin * cells.Count) return null;
        string unit = read.GroupBy(value => value.Unit, StringComparer.Ordinal).OrderByDescending(group => group.Count()).First().Key;
        return new LineColumn(number, [.. read.Select(value => value.Value)], read.Max(value => value.Decimals), unit);
    }
}
