using RigDaq.Tables.Cells;
using RigDaq.Tables.Numbers;
using RigDaq.Tables.Words;

namespace RigDaq.Tables.Layout;

/// <summary>Rows of numbers that stand together: first and last row, the most cells of a row, and how much of it are numbers.</summary>
internal sealed record Block(int FirstRow, int LastRow, int Columns, int Score);

/// <summary>Finds the table among headings, notes and summaries: the longest run of rows that hold numbers.</summary>
internal static class BlockFinder
{
    private const char CommentMark = '#';

    // So many rows with faults in a row do not part a table.
    private const int InterruptionMax = 3;

    // So many rows tell how many cells a row usually has.
    private const int RowsCounted = 100;

    // A row of numbers may name its specimen, its material, its state.
    private const int TextCellsMax = 3;

    /// <summary>The block with the most numbers; null where no row holds any.</summary>
    /// <param name="grid">The table.</param>
    /// <param name="fromRow">Rows before it are not looked at.</param>
    public static Block? Main(Grid grid, int fromRow)
    {
        Block? best = null;
        int first = -1, last = -1, columns = 0, score = 0;
        for (int row = fromRow; row <= grid.Rows; row++)
        {
            bool ends = row == grid.Rows;
            if (!ends && (IsComment(grid, row) || grid.IsBlank(row))) continue;
            (int numbers, int texts) = ends ? (0, 0) : Count(grid, row);
            if (IsData(numbers, texts))
            {
                if (first < 0) (first, columns, score) = (row, 0, 0);
                last = row;
                columns = Math.Max(columns, grid.Count(row));
                score += (2 * numbers) - texts;
            }
            else if (first >= 0)
            {
                if (best is null || score > best.Score) best = new Block(first, last, columns, score);
                first = -1;
            }
        }

        return best is null ? null : Upwards(grid, best, fromRow);
    }

    // A row with a fault in it does not begin a table: where rows of the same kind stand above it, they belong to it.
    private static Block Upwards(Grid grid, Block block, int fromRow)
    {
        int between = 0, cells = UsualCells(grid, block);
        for (int row = block.FirstRow - 1; row >= fromRow && between <= InterruptionMax; row--)
        {
            if (IsComment(grid, row) || grid.IsBlank(row)) continue;
            if (IsData(grid, row) && grid.Count(row) == cells)
            {
                block = block with { FirstRow = row };
                between = 0;
            }
            else if (IsHeading(grid, row))
            {
                break;
            }
            else
            {
                between++;
            }
        }

        return block;
    }

    private static int UsualCells(Grid grid, Block block) =>
        Enumerable.Range(block.FirstRow, Math.Min(RowsCounted, block.LastRow - block.FirstRow + 1))
        .Where(row => !grid.IsBlank(row)).GroupBy(grid.Count).MaxBy(rows => rows.Count())!.Key;

    private static bool IsHeading(Grid grid, int row)
    {
        (int numbers, int texts) = Count(grid, row);
        if (numbers > 0) return false;
        int known = 0;
        for (int column = 0; column < grid.Count(row); column++)
        {
            string cell = grid.Text(row, column);
            if (cell.Length > 0 && (Vocabulary.Of(cell).Kind != WordKind.None || UnitSymbol.InCell(cell) is not null)) known++;
        }

        return texts > 0 && 2 * known >= texts;
    }

    /// <summary>Whether a row holds numbers as the rows of a table do.</summary>
    public static bool IsData(Grid grid, int row)
    {
        (int numbers, int texts) = Count(grid, row);
        return IsData(numbers, texts);
    }

    /// <summary>Whether a row is a remark.</summary>
    public static bool IsComment(Grid grid, int row) => grid.Cell(row, 0) is [CommentMark, ..];

    /// <summary>How many cells hold numbers, and how many hold something else.</summary>
    public static (int Numbers, int Texts) Count(Grid grid, int row)
    {
        int numbers = 0, texts = 0;
        for (int column = 0; column < grid.Count(row); column++)
        {
            ReadOnlySpan<char> cell = grid.Cell(row, column);
            if (cell.IsEmpty) continue;
            // A cell that says that it has no number stands in the place of one.
            if (NumberReader.IsMissing(cell) || NumberShape.Of(cell) != NumberEvidence.None) numbers++;
            else texts++;
        }

        return (numbers, texts);
    }

    private static bool IsData(int numbers, int texts) => numbers >= 2 ? texts <= TextCellsMax : numbers == 1 && texts == 0;
}
