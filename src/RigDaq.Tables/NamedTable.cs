using System.Globalization;
using RigDaq.Tables.Cells;
using RigDaq.Tables.Files;
using RigDaq.Tables.Layout;
using RigDaq.Tables.Numbers;
using RigDaq.Tables.Readings;
using RigDaq.Tables.Text;
using RigDaq.Text;

namespace RigDaq.Tables;

/// <summary>A table with one header line that says what stands below it: commas, semicolons or tabs, decimal point or comma, any encoding
/// that curves may have, or a workbook. Lines that begin with # are remarks.</summary>
public sealed class NamedTable
{
    private readonly Grid _grid;
    private readonly int[] _rows;
    private readonly Dictionary<string, int> _columns = new(StringComparer.OrdinalIgnoreCase);
    private readonly char _mark;

    private NamedTable(Grid grid)
    {
        _grid = grid;
        int[] rows = [.. Enumerable.Range(0, grid.Rows).Where(row => !grid.IsBlank(row) && !BlockFinder.IsComment(grid, row))];
        if (rows.Length == 0) throw new TableRefusedException(TablesText.TableEmpty);
        for (int column = 0; column < grid.Count(rows[0]); column++)
        {
            string name = grid.Text(rows[0], column);
            if (name.Length > 0 && !_columns.TryAdd(name, column)) throw new TableRefusedException(TablesText.ColumnTwice(name));
        }

        _rows = rows[1..];
        var marks = new DecimalMark();
        foreach (int row in _rows)
        {
            // Several readings may share a cell: each shows the mark.
            for (int column = 0; column < grid.Count(row); column++)
            {
                foreach (string part in Parts(grid.Text(row, column))) marks.Count(NumberShape.Of(part));
            }
        }

        _mark = marks.Decide().Mark;
    }

    /// <summary>The names of its columns.</summary>
    public IReadOnlyCollection<string> Columns => _columns.Keys;

    /// <summary>How many rows stand below the header.</summary>
    public int Count => _rows.Length;

    /// <summary>Reads a table.</summary>
    /// <param name="bytes">The file.</param>
    /// <returns>The table, or the fault that keeps it from being read.</returns>
    public static (NamedTable? Table, Sentence? Fault) Read(ReadOnlyMemory<byte> bytes)
    {
        try
        {
            if (bytes.IsEmpty) throw new TableRefusedException(TablesText.TableEmpty);
            if (FileKind.Refusal(bytes.Span) is { } refusal) throw new TableRefusedException(refusal);
            if (FileKind.IsZip(bytes.Span) || FileKind.IsCompound(bytes.Span))
                return (new NamedTable(WorkbookReader.Read(bytes, null).Grid), null);
            (string text, _) = TextDecoding.Decode(bytes.Span, null);
            if (text.Contains('\0')) throw new TableRefusedException(TablesText.KindBinary);
            string header = text.Split('\n').FirstOrDefault(line => line.Trim() is [not '#', ..]) ?? "";
            char separator = header.Contains('\t') ? '\t' : header.Contains(';') ? ';' : ',';
            return (new NamedTable(TextSplitter.Split(text, separator)), null);
        }
        catch (TableRefusedException refused)
        {
            return (null, refused.Sentence);
        }
    }

    /// <summary>The line of a row in the file.</summary>
    public int Line(int row) => _grid.Line(_rows[row]);

    /// <summary>A cell's text; empty where the column is not there.</summary>
    public string Text(int row, string column) => _columns.TryGetValue(column, out int at) ? _grid.Text(_rows[row], at) : "";

    /// <summary>The finite numbers of a cell, parted by blanks or slashes; null where it holds something else.</summary>
    public IReadOnlyList<double>? Numbers(int row, string column)
    {
        var numbers = new List<double>();
        foreach (string part in Parts(Text(row, column)))
        {
            if (!NumberReader.TryParse(part, _mark, out double number) || !double.IsFinite(number)) return null;
            numbers.Add(number);
        }

        return numbers;
    }

    private static string[] Parts(string cell) => cell.Split([' ', '/'], StringSplitOptions.RemoveEmptyEntries);

    /// <summary>A decimal number of a cell; null where it is empty, and not known where it holds something else.</summary>
    public bool TryDecimal(int row, string column, out decimal? value)
    {
        string text = Text(row, column);
        value = null;
        if (text.Length == 0) return true;
        if (!decimal.TryParse(text.Replace(_mark, '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out decimal number)) return false;
        value = number;
        return true;
    }
}
