using RigDaq.Tables.Cells;
using RigDaq.Tables.Layout;
using RigDaq.Tables.Numbers;
using RigDaq.Tables.Readings;
using RigDaq.Tables.Text;
using RigDaq.Text;

namespace RigDaq.Tables.Curves;

/// <summary>What a row is to a table.</summary>
internal enum RowKind
{
    /// <summary>Nothing in the columns that count.</summary>
    Empty,

    /// <summary>Numbers, or cells that say that there is none.</summary>
    Good,

    /// <summary>Numbers and something else.</summary>
    Bad,

    /// <summary>No numbers, but words.</summary>
    Words,
}

/// <summary>Reads the cells of a row that a proposal uses.</summary>
internal sealed class RowReader
{
    private readonly Grid _grid;
    private readonly char _mark;
    private readonly ColumnGuess[] _used;
    private readonly int _named;
    private readonly bool _sideBySide;

    public RowReader(Grid grid, Proposal proposal)
    {
        _grid = grid;
        _mark = proposal.Mark;
        _used = [.. proposal.Curves.SelectMany(curve => new[] { curve.Force, curve.Time, curve.Position }).OfType<ColumnGuess>()
            .Distinct().OrderBy(column => column.Index)];
        _sideBySide = proposal.Curves.Count > 1;
        _named = proposal.Header.Row < 0 ? int.MaxValue : Math.Max(Array.FindLastIndex(proposal.Header.Names, name => name.Length > 0) + 1,
            _used.Length == 0 ? 0 : _used[^1].Index + 1);
    }

    /// <summary>How many columns the header names, those that are used among them.</summary>
    public int Named => _named;

    /// <summary>What the row is.</summary>
    public RowKind KindOf(int row)
    {
        int numbers = 0, bad = 0;
        foreach (ColumnGuess column in _used)
        {
            ReadOnlySpan<char> cell = _grid.Cell(row, column.Index);
            if (NumberReader.IsMissing(cell)) continue;
            if (TryParse(cell, column, out _)) numbers++;
            else bad++;
        }

        if (numbers == 0) return bad > 0 ? RowKind.Words : HasWords(row) ? RowKind.Words : RowKind.Empty;
        return bad > 0 || Misfit(row) is not null ? RowKind.Bad : RowKind.Good;
    }

    /// <summary>The faults of a bad row.</summary>
    public IEnumerable<TableFault> FaultsOf(int row)
    {
        if (Misfit(row) is { } misfit) yield return new TableFault(_grid.Line(row), null, misfit);
        foreach (ColumnGuess column in _used)
        {
            string cell = _grid.Text(row, column.Index);
            if (NumberReader.IsMissing(cell) || TryParse(cell, column, out _)) continue;
            yield return new TableFault(_grid.Line(row), column.Spoken, ProblemOf(cell, column));
        }
    }

    /// <summary>Whether the first cell that counts holds a number: the row belongs to the table, whatever else is in it.</summary>
    public bool BeginsWithNumber(int row) => _used.Length > 0 && TryParse(_grid.Cell(row, _used[0].Index), _used[0], out _);

    /// <summary>A value in N, mm, s or counts; NaN where the cell has none.</summary>
    public double Value(int row, ColumnGuess column) =>
        TryParse(_grid.Cell(row, column.Index), column, out double value) ? value : double.NaN;

    /// <summary>Whether cells are cut off at the row's end.</summary>
    public bool IsCutOff(int row) => !_sideBySide && _used.Length > 0 && _grid.Count(row) <= _used[^1].Index;

    private Sentence? Misfit(int row)
    {
        if (IsCutOff(row)) return TablesText.CellsTooFew(_grid.Count(row), _named == int.MaxValue ? _used[^1].Index + 1 : _named);
        for (int column = _grid.Count(row) - 1; column >= _named; column--)
        {
            if (!_grid.Cell(row, column).IsEmpty) return TablesText.CellsTooMany(column + 1, _named);
        }

        return null;
    }

    private bool HasWords(int row)
    {
        for (int column = 0; column < _grid.Count(row); column++)
        {
            if (!NumberReader.IsMissing(_grid.Cell(row, column))) return true;
        }

        return false;
    }

    private bool TryParse(ReadOnlySpan<char> cell, ColumnGuess column, out double value)
    {
        if (column.Role == ColumnRole.Time && column.Look.IsClock) return ClockTime.TryParse(cell, out value);
        bool read = NumberReader.TryParse(cell, _mark, out value) && double.IsFinite(value);
        if (column.Role != ColumnRole.Counts) value *= column.Size;
        return read && double.IsFinite(value);
    }

    private Sentence ProblemOf(string cell, ColumnGuess column)
    {
        string shown = cell.Length <= TableLimits.CellShownMax ? cell : cell[..TableLimits.CellShownMax] + "…";
        if (column.Role == ColumnRole.Time && column.Look.IsClock) return TablesText.CellNoClock(shown);
        if (NumberReader.TryParse(cell, _mark, out _)) return TablesText.CellNotFinite(shown);
        return NumberShape.Of(cell) != NumberEvidence.None ? TablesText.CellOtherMark(shown, _mark) : TablesText.CellNoNumber(shown);
    }
}
