using RigDaq.Tables.Cells;
using RigDaq.Tables.Numbers;

namespace RigDaq.Tables.Layout;

/// <summary>How a column's values behave, from rows all over the table.</summary>
internal sealed record ColumnLook
{
    private const int RowsLooked = 4_000;

    // A step that differs by more than this share from the middle one is not the same step.
    private const double SameStepShare = 0.1;

    /// <summary>Whether it holds numbers.</summary>
    public bool HasNumbers { get; private init; }

    /// <summary>Whether it holds times of day.</summary>
    public bool IsClock { get; private init; }

    /// <summary>Whether it never falls, and rises at all.</summary>
    public bool Rises { get; private init; }

    /// <summary>Whether it rises by the same step all the time.</summary>
    public bool IsSteady { get; private init; }

    /// <summary>By how much its steps differ from the middle one, as a share of it (nine in ten are within); infinite where it is
    /// not steady.</summary>
    public double Unevenness { get; private init; } = double.PositiveInfinity;

    /// <summary>Whether it counts up by one.</summary>
    public bool CountsUp { get; private init; }

    /// <summary>Whether it looks like milliseconds: whole numbers, mostly two or more apart. A recording of one sample in two seconds or
    /// fewer looks the same, so it is said and not assumed.</summary>
    public bool LooksLikeMilliseconds { get; private init; }

    /// <summary>Whether it stays the same over many rows: it names what they belong to.</summary>
    public bool StandsInRuns { get; private init; }

    /// <summary>Whether most rows have something in it.</summary>
    public bool IsFilled { get; private init; }

    /// <summary>Looks at a column.</summary>
    public static ColumnLook Of(Grid grid, Block block, int column, char mark)
    {
        int rows = 0, filled = 0, missing = 0, numbers = 0, clocks = 0, changes = 0;
        string last = "";
        var values = new List<double>();
        for (int row = block.FirstRow; row <= block.LastRow && filled < RowsLooked; row++)
        {
            ReadOnlySpan<char> cell = grid.Cell(row, column);
            rows++;
            if (cell.IsEmpty) continue;
            filled++;
            if (!cell.SequenceEqual(last))
            {
                changes++;
                last = cell.ToString();
            }

            if (NumberReader.IsMissing(cell))
            {
                missing++;
            }
            else if (ClockTime.Looks(cell))
            {
                clocks++;
                numbers++;
            }
            else if (NumberReader.TryParse(cell, mark, out double value))
            {
                numbers++;
                if (double.IsFinite(value)) values.Add(value);
            }
        }

        double[] steps = [.. values.Skip(1).Zip(values, (next, before) => next - before)];
        double middle = steps.Length == 0 ? 0 : steps.Order().ElementAt(steps.Length / 2);
        bool steady = steps.Length > 1 && middle > 0
            && steps.Count(step => Math.Abs(step - middle) <= SameStepShare * middle) >= 0.95 * steps.Length;
        return new ColumnLook
        {
            HasNumbers = filled > 0 && 2 * (numbers + missing) >= filled,
            IsClock = clocks > 0 && 2 * clocks >= filled,
            Rises = steps.Length > 1 && steps.All(step => step >= 0) && middle >= 0 && values[^1] > values[0],
            IsSteady = steady,
            Unevenness = steady ? steps.Select(step => Math.Abs(step - middle)).Order().ElementAt(9 * steps.Length / 10) / middle
                : double.PositiveInfinity,
            CountsUp = steady && middle == 1 && values.TrueForAll(value => value == Math.Floor(value)),
            LooksLikeMilliseconds = middle >= 2 && values.TrueForAll(value => value == Math.Floor(value)),
            IsFilled = 2 * filled > rows,
            StandsInRuns = filled > 0 && 3 * changes <= filled,
        };
    }
}
