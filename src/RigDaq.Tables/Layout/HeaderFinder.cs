using RigDaq.Tables.Cells;
using RigDaq.Tables.Words;

namespace RigDaq.Tables.Layout;

/// <summary>The names over a table's columns.</summary>
/// <param name="Row">The row of names; -1 where there is none.</param>
/// <param name="Names">One a column; empty where it has none.</param>
/// <param name="Units">What a row of units says, one a column.</param>
/// <param name="Titles">What stands above the names: whose columns they are; a title counts for the columns to its right.</param>
internal sealed record Header(int Row, string[] Names, string[] Units, string[] Titles);

/// <summary>Finds names, units and titles above the first row of numbers.</summary>
internal static class HeaderFinder
{
    // Names, units, a title and a remark stand within so many rows above the numbers.
    private const int RowsAbove = 5;

    /// <summary>Looks above a block.</summary>
    /// <param name="grid">The table.</param>
    /// <param name="block">Its numbers.</param>
    /// <param name="fromRow">Rows before it are not looked at.</param>
    public static Header Find(Grid grid, Block block, int fromRow)
    {
        var above = new List<(int Row, string[] Cells)>();
        for (int row = block.FirstRow - 1; row >= fromRow && above.Count < RowsAbove; row--)
        {
            if (grid.IsBlank(row)) continue;
            if (BlockFinder.IsData(grid, row)) break;
            above.Add((row, Fit(grid, row, block)));
        }

        int names = -1, units = -1;
        for (int i = 0; i < above.Count; i++)
        {
            string[] filled = [.. above[i].Cells.Where(cell => cell.Length > 0)];
            if (filled.Length < Math.Max(1, block.Columns / 3)) continue;
            if (units < 0 && names < 0 && 2 * filled.Count(cell => UnitSymbol.InCell(cell) is not null) > filled.Length)
            {
                units = i;
                continue;
            }

            int known = filled.Count(cell => Vocabulary.Of(cell).Kind != WordKind.None || UnitSymbol.InHeader(cell) is not null);
            if (names < 0 || (known > 0 && Known(above[names].Cells) == 0)) names = i;
            if (known > 0) break;
        }

        string[] none = [.. Enumerable.Repeat("", block.Columns)];
        if (names < 0 && units >= 0) return new Header(above[units].Row, above[units].Cells, none, none);
        if (names < 0) return new Header(-1, none, none, none);
        string[] titles = names + 1 < above.Count ? above[names + 1].Cells : none;
        return new Header(above[names].Row, above[names].Cells, units >= 0 ? above[units].Cells : none, titles);
    }

    private static int Known(string[] cells) =>
        cells.Count(cell => Vocabulary.Of(cell).Kind != WordKind.None || UnitSymbol.InHeader(cell) is not null);

    // A row's cells, one a column of numbers.
    private static string[] Fit(Grid grid, int row, Block block)
    {
        List<string> cells = [.. Enumerable.Range(0, grid.Count(row)).Select(column => grid.Text(row, column))];
        if (cells.Count > 0 && cells[0].StartsWith('#'))
        {
            cells[0] = cells[0].TrimStart('#', ' ');
            if (cells[0].Length == 0 && cells.Count == block.Columns + 1) cells.RemoveAt(0);
        }

        if (cells.Count != block.Columns && cells.Count > 1) cells = Wide(grid, row, block) ?? cells;

        // A table that was written with the names of its rows has one name less than columns.
        if (cells.Count == block.Columns - 1 && cells.All(cell => cell.Length > 0) && CountsUp(grid, block)) cells.Insert(0, "");
        while (cells.Count < block.Columns) cells.Add("");
        return [.. cells.Take(block.Columns)];
    }

    // Names with blanks in them over columns that blanks part: two blanks or a bracket end a name.
    private static List<string>? Wide(Grid grid, int row, Block block)
    {
        string line = grid.Between(row);
        string[] apart = line.Split(["  ", "\t"], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        if (apart.Length == block.Columns) return [.. apart];
        var joined = new List<string>();
        foreach (string word in line.TrimStart('#').Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries))
        {
            if (joined.Count > 0 && (word[0] is '(' or '[' || !joined[^1].EndsWith(')') && !joined[^1].EndsWith(']')
                && Vocabulary.Of(joined[^1]).Kind is WordKind.None or WordKind.Carrier))
                joined[^1] += " " + word;
            else
                joined.Add(word);
        }

        return joined.Count == block.Columns ? joined : null;
    }

    private static bool CountsUp(Grid grid, Block block)
    {
        const int Looked = 20;
        int? last = null;
        for (int row = block.FirstRow; row <= Math.Min(block.LastRow, block.FirstRow + Looked); row++)
        {
            if (grid.IsBlank(row)) continue;
            if (!int.TryParse(grid.Cell(row, 0), out int number) || (last is { } before && number != before + 1)) return false;
            last = number;
        }

        return last is not null;
    }
}
