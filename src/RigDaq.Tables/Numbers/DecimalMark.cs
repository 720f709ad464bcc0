using RigDaq.Tables.Cells;
using RigDaq.Tables.Text;
using RigDaq.Text;

namespace RigDaq.Tables.Numbers;

/// <summary>Finds out whether a file writes its decimals behind a point or a comma, from everything its numbers tell together.</summary>
internal sealed class DecimalMark
{
    private int _commaDecimal, _commaGroups, _pointDecimal, _pointGroups, _commaEither, _pointEither, _longIntegers, _plain;

    /// <summary>Counts what a cell tells.</summary>
    public void Count(NumberEvidence cell)
    {
        if ((cell & NumberEvidence.Number) == 0 || (cell & NumberEvidence.Clock) != 0) return;
        if ((cell & NumberEvidence.CommaDecimal) != 0) _commaDecimal++;
        if ((cell & NumberEvidence.CommaGroups) != 0) _commaGroups++;
        if ((cell & NumberEvidence.PointDecimal) != 0) _pointDecimal++;
        if ((cell & NumberEvidence.PointGroups) != 0) _pointGroups++;
        if ((cell & NumberEvidence.CommaEither) != 0) _commaEither++;
        if ((cell & NumberEvidence.PointEither) != 0) _pointEither++;
        if ((cell & NumberEvidence.LongInteger) != 0) _longIntegers++;
        if (cell == NumberEvidence.Number) _plain++;
    }

    /// <summary>The mark, and where it cannot be told for certain, what is wrong.</summary>
    /// <returns>The mark and the fault; without a fault the mark is certain enough to be used.</returns>
    public (char Mark, Sentence? Fault) Decide()
    {
        bool comma = _commaDecimal > 0 || _pointGroups > 0;
        bool point = _pointDecimal > 0 || _commaGroups > 0;
        if (comma && point) return ('.', TablesText.DecimalMixed);
        if (comma) return (',', null);
        if (point) return ('.', null);
        if (_commaEither == 0) return ('.', null);

        // Every comma stands before three digits. Thousands would leave numbers below 1,000 without one.
        if (_pointEither > 0) return ('.', TablesText.DecimalMixed);
        return _longIntegers > 0 || _plain == 0 ? (',', null) : ('.', TablesText.DecimalUnclear);
    }

    /// <summary>Looks through rows of numbers.</summary>
    public static DecimalMark Of(Grid grid, int firstRow, int lastRow)
    {
        var marks = new DecimalMark();
        for (int row = firstRow; row <= lastRow; row++)
        {
            for (int column = 0; column < grid.Count(row); column++) marks.Count(NumberShape.Of(grid.Cell(row, column)));
        }

        return marks;
    }
}
