using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core;
using RigDaq.Core.Pulls;
using RigDaq.Core.Specimens;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Tables;

namespace RigDaq.App.Curves;

/// <summary>Which curve is whose: a row of the table, or what a person typed for all files.</summary>
/// <param name="Line">In the table; 0 where it was typed.</param>
/// <param name="File">As the table names it; empty for all.</param>
/// <param name="Curve">Which of the file's curves; empty where it holds one.</param>
/// <param name="Specimen">Its label; empty to make one.</param>
/// <param name="Group">What it belongs to.</param>
/// <param name="Print">The print; empty for one a group.</param>
/// <param name="Section">Its readings; null where it was not measured.</param>
/// <param name="Ending">How the piece ended, where a person who saw it says so; null to go by the force.</param>
internal sealed record CurveRow(int Line, string File, string Curve, string Specimen, GroupKey Group, string Print,
    SectionMeasurement? Section, PullEnding? Ending = null);

/// <summary>Reads the table that says which curve is whose.</summary>
internal static class CurveRows
{
    public const string File = "file", Curve = "curve", Specimen = "specimen", Material = "material", Condition = "condition",
        Setting = "setting",
        Print = "print", Ending = "ending", Width = "width_mm", Thickness = "thickness_mm", Area = "area_mm2",
            AreaUncertainty = "area_standard_uncertainty_mm2";

    private static readonly string[] Known = [File, Curve, Specimen, Material, Condition, Setting, Print, Ending, Width, Thickness,
        Area, AreaUncertainty];

    /// <summary>What a person can have seen of an old piece.</summary>
    public static readonly IReadOnlyList<PullEnding> Endings =
        [PullEnding.Broken, PullEnding.PartlyBroken, PullEnding.SlippedOut, PullEnding.Unbroken];

    /// <summary>The rows.</summary>
    /// <param name="file">The table's name, for people.</param>
    /// <param name="bytes">Its content.</param>
    /// <param name="say">Takes what is odd but no fault.</param>
    /// <exception cref="InputException">The message has every fault, one a line.</exception>
    public static IReadOnlyList<CurveRow> Read(string file, byte[] bytes, Action<string> say)
    {
        (NamedTable? table, string? fault) = NamedTable.Read(bytes);
        if (table is null) throw InputException.In(file, fault!);
        string[] missing = [.. new[] { File, Material, Condition }.Where(column =>
            !table.Columns.Contains(column, StringComparer.OrdinalIgnoreCase))];
        if (missing.Length > 0) throw InputException.At(file, 1, AppText.CurveTableLacks(missing, Known));
        string[] unknown = [.. table.Columns.Where(column => !Known.Contains(column, StringComparer.OrdinalIgnoreCase))];
        if (unknown.Length > 0) say(AppText.CurveTableUnknown(file, unknown));
        if (table.Count == 0) throw InputException.In(file, AppText.StudyImportNoRows);
        var faults = new InputFaults();
        var rows = new List<CurveRow>();
        for (int row = 0; row < table.Count; row++) rows.Add(Row(file, table, row, faults));
        foreach (var twice in rows.GroupBy(row => (row.File.ToUpperInvariant(), row.Curve)).Where(same => same.Count() > 1))
            faults.Add(InputException.At(file, twice.Last().Line, File,
                AppText.CurveTableTwice(twice.Last().File, twice.Last().Curve, twice.First().Line)));
        foreach (var twice in rows.Where(row => row.Specimen.Length > 0).GroupBy(row => row.Specimen)
            .Where(same => same.Count() > 1))
            faults.Add(InputException.At(file, twice.Last().Line, Specimen,
                AppText.CurveTableTwice(twice.Key, "", twice.First().Line)));
        faults.ThrowIfAny();
        return rows;
    }

    /// <summary>The ending of a word, in any case; null where none was said.</summary>
    /// <exception cref="RefusalException">It is no such word.</exception>
    public static PullEnding? EndingOf(string word)
    {
        if (word.Length == 0) return null;
        foreach (PullEnding ending in Endings)
        {
            if (ending.Word().Equals(word, StringComparison.OrdinalIgnoreCase)) return ending;
        }

        throw new RefusalException(AppText.CurveEnding(word, [.. Endings.Select(ending => ending.Word())]));
    }

    /// <summary>The readings of a section; null where none was given.</summary>
    /// <exception cref="RefusalException">They give no section; the message says why.</exception>
    public static SectionMeasurement? SectionOf(IReadOnlyList<double> widths, IReadOnlyList<double> thicknesses, double? area,
        double? areaUncertainty)
    {
        if (widths.Count == 0 && thicknesses.Count == 0 && area is null) return null;
        var section = new SectionMeasurement
        {
            WidthsMillimetres = widths,
            ThicknessesMillimetres = thicknesses,
            AreaSquareMillimetres = area,
            AreaStandardUncertaintySquareMillimetres = areaUncertainty,
        };
        return SectionRules.Refusal(section) is { } refusal ? throw new RefusalException(refusal) : section;
    }

    private static CurveRow Row(string file, NamedTable table, int row, InputFaults faults)
    {
        int line = table.Line(row);
        string Filled(string column)
        {
            string text = table.Text(row, column);
            if (text.Length == 0) faults.Add(InputException.At(file, line, column, AppText.StudyImportEmpty));
            return text;
        }

        IReadOnlyList<double> Numbers(string column)
        {
            if (table.Numbers(row, column) is { } numbers) return numbers;
            faults.Add(InputException.At(file, line, column, AppText.InputNotFinite(table.Text(row, column))));
            return [];
        }

        if (!table.TryDecimal(row, Setting, out decimal? setting))
            faults.Add(InputException.At(file, line, Setting,
                AppText.InputNotDecimal(table.Text(row, Setting), comma: false)));
        IReadOnlyList<double> widths = Numbers(Width), thicknesses = Numbers(Thickness), areas = Numbers(Area),
            uncertainties = Numbers(AreaUncertainty);
        SectionMeasurement? section = null;
        PullEnding? ending = null;
        try
        {
            ending = EndingOf(table.Text(row, Ending));
            section = SectionOf(widths, thicknesses, areas.Count > 0 ? areas[0] : null, uncertainties.Count > 0 ? uncertainties[0]
                : null);
        }
        catch (RefusalException refusal)
        {
            faults.Add(InputException.At(file, line, refusal.Message));
        }

        return new CurveRow(
            line, Filled(File), table.Text(row, Curve), table.Text(row, Specimen),
                new GroupKey(Filled(Material), Filled(Condition), setting),
            table.Text(row, Print), section, ending);
    }
}
