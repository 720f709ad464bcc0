using RigDaq.Tables.Cells;
using RigDaq.Tables.Readings;
using RigDaq.Tables.Text;

namespace RigDaq.Tables.Layout;

/// <summary>Finds out what stands between cells: the mark under which the most cells of the file are numbers.</summary>
internal static class SeparatorFinder
{
    // So many lines are split in trial, from the beginning; a heading may take hundreds of them.
    private const int LinesTried = 3_000;

    // Ahead of others where they do as well: what people take between cells on purpose.
    private static readonly (char Mark, string Name)[] Marks = [('\t', "tab"), (';', "semicolon"), (',', "comma"), ('|', "pipe"),
        (TextSplitter.Blanks, "space")];

    /// <summary>The names that <see cref="ReadingOptions.Separator"/> takes.</summary>
    public static IEnumerable<string> Names => Marks.Select(mark => mark.Name);

    /// <summary>What a mark is called.</summary>
    public static string NameOf(char mark) =>
        Marks.Where(one => one.Mark == mark).Select(one => one.Name).FirstOrDefault() ?? mark.ToString();

    /// <summary>The mark.</summary>
    /// <param name="text">The file's text.</param>
    /// <param name="skipLines">Lines at its beginning that do not count.</param>
    /// <param name="wanted">What a person says; null to find out.</param>
    /// <exception cref="TableRefusedException">What was said is no separator.</exception>
    public static char Find(string text, int skipLines, string? wanted)
    {
        if (wanted is not null)
        {
            foreach ((char mark, string name) in Marks)
            {
                if (string.Equals(name, wanted, StringComparison.OrdinalIgnoreCase)) return mark;
            }

            return wanted.Length == 1 && !char.IsLetterOrDigit(wanted[0]) && wanted[0] is not ('"' or '.' or '-' or '+') ? wanted[0]
                : throw new TableRefusedException(TablesText.SeparatorNotKnown(wanted, Names));
        }

        char best = Marks[1].Mark;
        int most = -1;
        foreach ((char mark, _) in Marks)
        {
            Grid grid = TextSplitter.Split(text, mark, LinesTried + skipLines);
            Block? block = BlockFinder.Main(grid, FirstRow(grid, skipLines));
            int score = block?.Score ?? 0;
            if (score <= most) continue;
            most = score;
            best = mark;
        }

        return best;
    }

    /// <summary>The first row behind skipped lines.</summary>
    public static int FirstRow(Grid grid, int skipLines)
    {
        int row = 0;
        while (row < grid.Rows && grid.Line(row) <= skipLines) row++;
        return row;
    }
}
