using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Daemon.Input;
using RigDaq.Daemon.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>Reads a table of strengths: material, condition, setting, strength_MPa and, if it likes, print.</summary>
internal static class CompareInput
{
    /// <summary>The most groups of one table.</summary>
    public const int GroupsMax = 1000;

    /// <summary>The most rows of one table.</summary>
    public const int RowsMax = 1_000_000;

    /// <summary>Reads the rows and notes what looks wrong but is not.</summary>
    /// <exception cref="InputException">A cell is wrong, or there are no rows.</exception>
    public static IReadOnlyList<Observation> Read(CsvTable table, List<string> warnings)
    {
        if (table.Rows.Count == 0) throw InputException.In(table.File, TerminalText.CompareWithoutRows);
        if (table.Rows.Count > RowsMax) throw InputException.In(table.File, TerminalText.CompareRowsTooMany(table.Rows.Count, RowsMax));
        var observations = new List<Observation>(table.Rows.Count);
        foreach (CsvRow row in table.Rows)
        {
            double strength = row.Number("strength_MPa");
            if (Math.Abs(strength) > Comparer.StrengthMegapascalsMax) throw row.Fault("strength_MPa", TerminalText.CompareStrengthBeyondAny);
            observations.Add(new Observation(
                new GroupKey(row.Text("material"), row.Text("condition"), row.DecimalOrNull("setting")), row.Text("print"), strength));
        }

        WarnOfOddRows(table, warnings);
        int groups = observations.Select(o => o.Group).Distinct().Count();
        if (groups > GroupsMax)
            throw InputException.In(table.File, TerminalText.CompareGroupsTooMany(groups, GroupsMax));
        return observations;
    }

    /// <summary>Reads a file.</summary>
    public static IReadOnlyList<Observation> Read(string file, List<string> warnings) =>
        Read(CsvTable.Read(file, "material", "condition", "setting", "strength_MPa"), warnings);

    private static void WarnOfOddRows(CsvTable table, List<string> warnings)
    {
        Say(table.Rows.Where(r => r.Number("strength_MPa") <= 0), TerminalText.CompareStrengthNotAboveZero);
        foreach (string column in new[] { "material", "condition" }) Say(table.Rows.Where(r => r.Text(column).Length == 0), TerminalText.CompareEmptyName(column));
        if (!table.Has("print")) return;
        foreach (var group in table.Rows.GroupBy(r => (r.Text("material"), r.Text("condition"), r.DecimalOrNull("setting"))))
        {
            if (group.Any(r => r.Text("print").Length > 0))
                Say(group.Where(r => r.Text("print").Length == 0), TerminalText.ComparePrintOfSome);
        }

        void Say(IEnumerable<CsvRow> rows, string what)
        {
            int[] lines = [.. rows.Select(r => r.Line)];
            if (lines.Length == 0) return;
            const int LinesShown = 5;
            warnings.Add(TerminalText.CompareOddRows(table.File, [.. lines.Take(LinesShown)], lines.Length - LinesShown, what));
        }
    }
}
