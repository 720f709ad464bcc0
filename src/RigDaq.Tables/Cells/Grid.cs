using RigDaq.Tables.Readings;

namespace RigDaq.Tables.Cells;

/// <summary>A table's cells as places in one text, so that a long file costs two numbers a cell. Rows may differ in length; a row that does
/// not reach a column has an empty cell there.</summary>
internal sealed class Grid(string text)
{
    private readonly List<int> _starts = [];
    private readonly List<int> _lengths = [];
    private readonly List<int> _rows = [];
    private readonly List<int> _lines = [];

    /// <summary>How many rows there are.</summary>
    public int Rows => _rows.Count;

    /// <summary>The line in the file where a row begins, from 1.</summary>
    public int Line(int row) => _lines[row];

    /// <summary>How many cells a row has.</summary>
    public int Count(int row) => (row + 1 < _rows.Count ? _rows[row + 1] : _starts.Count) - _rows[row];

    /// <summary>A cell, without the blanks around it.</summary>
    public ReadOnlySpan<char> Cell(int row, int column)
    {
        if (column >= Count(row)) return [];
        int cell = _rows[row] + column;
        return text.AsSpan(_starts[cell], _lengths[cell]).Trim();
    }

    /// <summary>A cell as a person would read it: quotation marks that were doubled are single, line breaks are blanks.</summary>
    public string Text(int row, int column) => string.Join(' ', Cell(row, column).ToString().Replace("\"\"", "\"", StringComparison.Ordinal)
        .Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    /// <summary>A row as it stands in the file, from its first cell to its last.</summary>
    public string Between(int row)
    {
        int count = Count(row);
        if (count == 0) return "";
        int first = _rows[row], last = first + count - 1;
        return text[_starts[first]..(_starts[last] + _lengths[last])];
    }

    /// <summary>Whether a row has nothing in it.</summary>
    public bool IsBlank(int row)
    {
        for (int column = 0; column < Count(row); column++)
        {
            if (!Cell(row, column).IsEmpty) return false;
        }

        return true;
    }

    public void BeginRow(int line)
    {
        _rows.Add(_starts.Count);
        _lines.Add(line);
    }

    /// <exception cref="TableRefusedException">There are more cells than are read.</exception>
    public void Add(int start, int length)
    {
        if (_starts.Count >= TableLimits.CellsMax)
            throw new TableRefusedException(Tables.Text.TablesText.CellsTooMany(TableLimits.CellsMax));

        if (_starts.Count - _rows[^1] >= TableLimits.ColumnsMax)
            throw new TableRefusedException(Tables.Text.TablesText.ColumnsTooMany(Line(_rows.Count - 1), TableLimits.ColumnsMax));
        _starts.Add(start);
        _lengths.Add(length);
    }
}
