using RigDaq.Tables.Cells;
using RigDaq.Tables.Layout;
using RigDaq.Tables.Numbers;
using RigDaq.Tables.Readings;
using RigDaq.Tables.Text;
using RigDaq.Text;

namespace RigDaq.Tables.Curves;

/// <summary>Reads the rows under a proposal: sections under repeated headers, curves side by side, curves one below the other by a column
/// that names them or by a time that begins anew. Every fault is collected; a summary behind the last row is none.</summary>
internal sealed class CurveReader
{
    private readonly Grid _grid;
    private readonly Proposal _proposal;
    private readonly FaultList _faults;
    private readonly RowReader _rows;
    private readonly List<Sentence> _warnings;
    private readonly List<CurveBuilder> _done = [];
    private readonly CurveBuilder?[] _open;
    private readonly List<int> _bad = [];
    private readonly List<int> _words = [];
    private string _section = "";
    private string _title = "";
    private bool _sectionBegan;
    private bool _stopped;
    private int _leftOut, _firstLeftOut;

    public CurveReader(Grid grid, Proposal proposal, FaultList faults, List<Sentence> warnings)
    {
        (_grid, _proposal, _faults, _warnings) = (grid, proposal, faults, warnings);
        _rows = new RowReader(grid, proposal);
        _open = new CurveBuilder?[proposal.Curves.Count];
    }

    /// <summary>The curves as they stand in the file.</summary>
    public List<CurveBuilder> Read()
    {
        if (_rows.Named < _proposal.Block.Columns && _proposal.Columns[_rows.Named].Look is { IsFilled: true })
        {
            _faults.Add(_grid.Line(_proposal.Block.FirstRow), null, TablesText.CellsTooMany(_proposal.Block.Columns, _rows.Named));
            return [];
        }

        int header = _proposal.Header.Row;
        int first = header < 0 ? _proposal.Block.FirstRow : Enumerable.Range(0, header + 1).First(IsHeader);
        if (first > 0 && header >= 0) _section = TitleAbove(first);
        for (int row = first; row < _grid.Rows; row++) Take(row);
        EndSection();
        CloseAll();
        if (_leftOut > 0) _warnings.Add(TablesText.LinesLeftOut(_leftOut, _firstLeftOut));
        return _done;
    }

    private void Take(int row)
    {
        if (BlockFinder.IsComment(_grid, row) && !IsHeader(row)) return;
        if (IsHeader(row))
        {
            BeginSection();
            return;
        }

        switch (_rows.KindOf(row))
        {
            case RowKind.Words when !IsUnits(row):
                _title = Title(row);
                if (!_stopped) _words.Add(row);
                break;
            case RowKind.Bad when !_stopped:
                _bad.Add(row);
                break;
            case RowKind.Good when !_stopped:
                if (Goes(row)) Add(row);
                break;
        }
    }

    // Whether a row goes on with what was read: words in front of it can be the names of another table.
    private bool Goes(int row)
    {
        bool between = _open.Any(curve => curve is not null);
        int names = _words.FirstOrDefault(word => TextCells(word) >= 2, -1);
        if (between && names >= 0 && !GoesOn(row))
        {
            _stopped = true;
            _warnings.Add(TablesText.AnotherTable(_grid.Line(names)));
            _words.Clear();
            return false;
        }

        if (between)
        {
            foreach (int word in _words)
            {
                if (TextCells(word) >= 2)
                {
                    _bad.Add(word);
                    continue;
                }

                if (_leftOut++ == 0) _firstLeftOut = _grid.Line(word);
            }
        }

        _words.Clear();
        foreach (TableFault fault in _bad.Order().SelectMany(_rows.FaultsOf)) _faults.Add(fault.Line, fault.Column, fault.Problem);
        _bad.Clear();
        return true;
    }

    private bool GoesOn(int row)
    {
        for (int i = 0; i < _open.Length; i++)
        {
            if (_open[i] is { } curve && _proposal.Curves[i].Time is { } time && _rows.Value(row, time) > curve.LastTime) return true;
        }

        return false;
    }

    private void Add(int row)
    {
        string name = _proposal.CurveColumn is { } column ? _grid.Text(row, column.Index) : "";
        bool newSection = _sectionBegan;
        _sectionBegan = false;
        for (int i = 0; i < _open.Length; i++)
        {
            CurveColumns columns = _proposal.Curves[i];
            double time = columns.Time is { } timeColumn ? _rows.Value(row, timeColumn) : double.NaN;
            double value = _rows.Value(row, columns.Force);
            if (double.IsNaN(time) && double.IsNaN(value)) continue;
            if (columns.Time is not null && double.IsNaN(time)) continue;
            CurveBuilder curve = Curve(i, row, name, ref time, newSection);
            curve.Times.Add(time);
            curve.Values.Add(value);
            if (columns.Position is { } position) curve.Positions.Add(_rows.Value(row, position));
            curve.LastTime = time;
            curve.LastLine = _grid.Line(row);
        }
    }

    // The curve that a row belongs to; another one begins where its name changes or the time begins anew.
    private CurveBuilder Curve(int i, int row, string name, ref double time, bool newSection)
    {
        CurveColumns columns = _proposal.Curves[i];
        CurveBuilder? open = _open[i];
        if (open is not null && columns.Time is { Look.IsClock: true }
            && time + open.DaysSeconds < open.LastTime - (ClockTime.DaySeconds / 2))
            open.DaysSeconds += ClockTime.DaySeconds;
        if (open is not null) time += open.DaysSeconds;
        bool falls = open is not null && time < open.LastTime;
        if (open is not null && open.Names[1] == name && !falls && !(newSection && columns.Time is null)) return open;
        if (open is not null && falls && open.Names[1] == name && !newSection)
        {
            bool anew = open.Times.Count > 2 && time <= open.Times[0] + (open.Times[1] - open.Times[0]);
            if (!anew)
            {
                _faults.Add(_grid.Line(row), columns.Time!.Spoken, TablesText.TimeFalls(_grid.Text(row, columns.Time.Index)));
                return open;
            }

            _warnings.Add(TablesText.TimeBeginsAnew(_grid.Line(row)));
        }

        Close(i);
        return _open[i] = new CurveBuilder([_section, name, columns.Name], _grid.Line(row))
        {
            IsClock = columns.Time is { Look.IsClock: true },
            Columns = [.. new[] { columns.Force, columns.Time, columns.Position }.OfType<ColumnGuess>()
                .Select(column => column.Index + 1).Order()],
        };
    }

    private void BeginSection()
    {
        EndSection();
        if (_title.Length > 0) _section = _title;
        _title = "";
        _sectionBegan = true;
        _stopped = false;
    }

    // What stands behind the last row is a summary, unless it begins as a row of the table.
    private void EndSection()
    {
        int lastRow = _grid.Rows - 1;
        while (lastRow > 0 && _grid.IsBlank(lastRow)) lastRow--;
        foreach (int row in _bad.Where(_rows.BeginsWithNumber))
        {
            if (row == lastRow && _rows.IsCutOff(row)) _warnings.Add(TablesText.LastLineCutOff(_grid.Line(row)));
            else foreach (TableFault fault in _rows.FaultsOf(row)) _faults.Add(fault.Line, fault.Column, fault.Problem);
        }

        _bad.Clear();
        _words.Clear();
    }

    private void CloseAll()
    {
        for (int i = 0; i < _open.Length; i++) Close(i);
    }

    private void Close(int i)
    {
        if (_open[i] is { HasValue: true } curve)
        {
            if (_done.Count >= TableLimits.CurvesMax) throw new TableRefusedException(TablesText.CurvesTooMany(TableLimits.CurvesMax));
            _done.Add(curve);
        }

        _open[i] = null;
    }

    private bool IsHeader(int row)
    {
        int header = _proposal.Header.Row;
        if (row == header) return true;
        if (header < 0 || _grid.Count(row) != _grid.Count(header)) return false;
        for (int column = 0; column < _grid.Count(row); column++)
        {
            if (!_grid.Cell(row, column).SequenceEqual(_grid.Cell(header, column))) return false;
        }

        return true;
    }

    private bool IsUnits(int row)
    {
        if (!_proposal.Header.Units.Any(unit => unit.Length > 0)) return false;
        for (int column = 0; column < _grid.Count(row) && column < _proposal.Header.Units.Length; column++)
        {
            if (_grid.Text(row, column) != _proposal.Header.Units[column]) return false;
        }

        return true;
    }

    private int TextCells(int row) => BlockFinder.Count(_grid, row).Texts;

    private string TitleAbove(int row)
    {
        int above = row - 1;
        while (above > 0 && _grid.IsBlank(above)) above--;
        return _grid.IsBlank(above) || _proposal.Header.Titles.Count(title => title.Length > 0) > 2 ? "" : Title(above);
    }

    private string Title(int row)
    {
        string[] cells = [.. Enumerable.Range(0, _grid.Count(row)).Select(column => _grid.Text(row, column))
            .Where(cell => cell.Length > 0)];
        return cells.Length > 2 ? "" : string.Join(' ', cells).Trim('#', ' ', ':');
    }
}
