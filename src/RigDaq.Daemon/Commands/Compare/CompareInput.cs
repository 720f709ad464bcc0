using System.Globalization;
using RigDaq.App.Input;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Specimens;
using RigDaq.Daemon.Text;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>A table as it was read.</summary>
/// <param name="Observations">The strengths.</param>
/// <param name="Failed">Stretches that could not be printed.</param>
internal sealed record ComparedTable(IReadOnlyList<Observation> Observations, IReadOnlyList<FailedStretch> Failed);

/// <summary>Reads a table of strengths: material, condition, setting, strength_MPa and, if it likes, print, manner, location, outcome,
/// reason, tries and imported.</summary>
internal static class CompareInput
{
    /// <summary>The most groups of one table.</summary>
    public const int GroupsMax = 1000;

    /// <summary>The most rows of one table.</summary>
    public const int RowsMax = 1_000_000;

    /// <summary>The outcome of a stretch that gave no specimen, as tables know it.</summary>
    public const string NotPrintable = "could not be printed";

    /// <summary>Reads the rows and notes what looks wrong but is not.</summary>
    /// <exception cref="InputException">A cell is wrong, or there are no rows.</exception>
    public static ComparedTable Read(CsvTable table, List<Sentence> warnings, bool separatePrints = false)
    {
        if (table.Rows.Count == 0) throw InputException.In(table.File, TerminalText.CompareWithoutRows);
        if (table.Rows.Count > RowsMax) throw InputException.In(table.File, TerminalText.CompareRowsTooMany(table.Rows.Count, RowsMax));
        CsvRow[] failed = [.. table.Rows.Where(HasFailed)], measured = [.. table.Rows.Where(row => !HasFailed(row))];
        Observation[] observations = [.. measured.Select(Observed)];
        if (observations.Length == 0) throw InputException.In(table.File, TerminalText.CompareWithoutStrengths);
        WarnOfOddRows(table, measured, warnings);
        if (!separatePrints) warnings.AddRange(SharedPrints(observations));
        int groups = observations.Select(o => o.Group).Distinct().Count();
        if (groups > GroupsMax) throw InputException.In(table.File, TerminalText.CompareGroupsTooMany(groups, GroupsMax));
        return new ComparedTable(observations, [.. failed.Select(Failed)]);
    }

    /// <summary>Reads a file.</summary>
    public static ComparedTable Read(string file, List<Sentence> warnings, bool separatePrints = false) =>
        Read(CsvTable.Read(file, "material", "condition", "setting", "strength_MPa"), warnings, separatePrints);

    private static bool HasFailed(CsvRow row)
    {
        string outcome = row.Text("outcome");
        if (outcome.Length == 0 || outcome == "broken") return false;
        if (outcome != NotPrintable) throw row.Fault("outcome", TerminalText.CompareOutcomeUnknown(outcome, NotPrintable));
        return row.Text("strength_MPa").Length == 0 ? true : throw row.Fault("strength_MPa", TerminalText.CompareFailedWithStrength);
    }

    private static FailedStretch Failed(CsvRow row) =>
        new(GroupOf(row), row.Text("print")) { Reason = row.Text("reason"), Tries = Tries(row, "tries") };

    /// <summary>How many prints were tried in vain; one where the cell is empty or not there.</summary>
    /// <exception cref="InputException">The cell holds something else.</exception>
    internal static int Tries(CsvRow row, string column)
    {
        string text = row.Text(column);
        if (text.Length == 0) return 1;
        return int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int tries)
            && tries is >= 1 and <= StudyRules.PrintTriesMax
            ? tries : throw row.Fault(column, TerminalText.CompareTriesExpected(text, StudyRules.PrintTriesMax));
    }

    private static Observation Observed(CsvRow row)
    {
        double strength = row.Number("strength_MPa");
        if (Math.Abs(strength) > Comparer.StrengthMegapascalsMax) throw row.Fault("strength_MPa", TerminalText.CompareStrengthBeyondAny);
        return new Observation(GroupOf(row), row.Text("print"), strength)
        {
            Manner = row.Text("manner"),
            Location = row.Text("location"),
            IsImported = Imported(row),
        };
    }

    private static bool Imported(CsvRow row) => row.Text("imported") switch
    {
        "" or "false" or "no" => false,
        "true" or "yes" => true,
        { } other => throw row.Fault("imported", TerminalText.CompareImportedUnknown(other)),
    };

    private static GroupKey GroupOf(CsvRow row) => new(row.Text("material"), row.Text("condition"), row.DecimalOrNull("setting"));

    /// <summary>What a print's name was taken to mean, where it could mean something else.</summary>
    private static IEnumerable<Sentence> SharedPrints(Observation[] observations)
    {
        var named = observations.Where(o => o.Print.Length > 0).Select(o => (o.Group, o.Print)).Distinct().ToArray();
        string[] over = [.. named.GroupBy(o => (o.Group.Material, o.Group.Condition, o.Print)).Where(p => p.Count() > 1)
            .Select(p => p.Key.Print).Distinct()];
        if (over.Length > 0) yield return TerminalText.ComparePrintsOverSettings([.. over.Take(NamesShown)], over.Length - NamesShown);
        string[] twice = [.. named.Select(o => (o.Group.Material, o.Group.Condition, o.Print)).Distinct().GroupBy(p => p.Print)
            .Where(p => p.Count() > 1).Select(p => p.Key)];
        if (twice.Length > 0) yield return TerminalText.ComparePrintsOverConditions([.. twice.Take(NamesShown)], twice.Length - NamesShown);
    }

    private const int NamesShown = 5;

    private static void WarnOfOddRows(CsvTable table, CsvRow[] measured, List<Sentence> warnings)
    {
        Say(measured.Where(r => r.Number("strength_MPa") <= 0), TerminalText.CompareStrengthNotAboveZero);
        foreach (string column in new[] { "material", "condition" }) Say(table.Rows.Where(r => r.Text(column).Length == 0),
            TerminalText.CompareEmptyName(column));
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
