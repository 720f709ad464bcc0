using System.Globalization;
using RigDaq.App.Curves;
using RigDaq.Daemon.Text;
using RigDaq.Tables;
using RigDaq.Tables.Readings;
using RigDaq.Text;

namespace RigDaq.Daemon.Commands;

/// <summary>How a file would be read, and nothing more: what each column was taken for and why, those that are not used, the first rows,
/// the curves, and all that keeps it from being read. The answer of <c>rigdaq trace --preview</c>.</summary>
internal sealed record TracePreview
{
    private const int CellLengthMax = 24;
    private const string Between = " | ";

    public required string File { get; init; }
    public required string Encoding { get; init; }
    public string? Sheet { get; init; }
    public required IReadOnlyList<string> Sheets { get; init; }
    public string? Separator { get; init; }
    public required string Decimal { get; init; }
    public int? HeaderLine { get; init; }
    public int? FirstLine { get; init; }

    /// <summary>column, rate or speed; empty where there is no time yet.</summary>
    public required string TimesFrom { get; init; }

    public bool SignTurned { get; init; }
    public required IReadOnlyList<TraceReadColumn> Columns { get; init; }

    /// <summary>From the header on, as they stand in the file.</summary>
    public required IReadOnlyList<IReadOnlyList<string>> FirstRows { get; init; }

    public required IReadOnlyList<TracePreviewCurve> Curves { get; init; }
    public required IReadOnlyList<Sentence> Warnings { get; init; }
    public required IReadOnlyList<string> Faults { get; init; }

    /// <summary>Looks at a file.</summary>
    /// <exception cref="App.Input.InputException">It is missing, a folder or too long.</exception>
    /// <exception cref="IOException">It cannot be opened.</exception>
    public static TracePreview Of(string file, ReadingOptions options)
    {
        TableReading reading = RecordedTable.Read(CurveFile.Bytes(file), options);
        return new TracePreview
        {
            File = file,
            Encoding = reading.Encoding,
            Sheet = reading.Sheet,
            Sheets = reading.Sheets,
            Separator = reading.Separator,
            Decimal = reading.DecimalMark,
            HeaderLine = reading.HeaderLine,
            FirstLine = reading.FirstLine,
            TimesFrom = reading.TimesFrom,
            SignTurned = reading.Turned,
            Columns = [.. reading.Columns.Select(TraceReadColumn.Of)],
            FirstRows = reading.Preview,
            Curves = [.. reading.Curves.Select(TracePreviewCurve.Of)],
            Warnings = [.. reading.Warnings, .. reading.Curves.SelectMany(curve => curve.Warnings).Distinct()],
            Faults = [.. reading.Faults.Select(fault => fault.ToString())],
        };
    }

    /// <summary>The answer for a person.</summary>
    public IEnumerable<string> Lines()
    {
        yield return Faults.Count > 0 ? TerminalText.PreviewFaults(File, Faults.Count) : TerminalText.PreviewCurves(File, Curves.Count);
        if (FirstLine is not null)
            yield return TerminalText.TraceReadAs(Encoding, Sheet, Separator, Decimal, HeaderLine, FirstLine);
        if (Sheets.Count > 1) yield return TerminalText.PreviewSheets(Sheets);
        foreach (TraceReadColumn column in Columns)
        {
            yield return TerminalText.TraceReadColumn(column.Role ?? TerminalText.PreviewNotUsed, column.Number, column.Name, column.Unit,
                column.Why);
        }

        if (TimesFrom is not ("" or "column")) yield return TerminalText.TraceTimesFrom(TimesFrom);
        foreach (IReadOnlyList<string> row in FirstRows) yield return TerminalText.PreviewRow(string.Join(Between, row.Select(Short)));
        foreach (TracePreviewCurve curve in Curves) yield return curve.Line();
        foreach (Sentence warning in Warnings) yield return TerminalText.TraceNote(warning);
        foreach (string fault in Faults) yield return TerminalText.PreviewFault(fault);
        yield return TerminalText.PreviewCorrect;
    }

    private static string Short(string cell) => cell.Length <= CellLengthMax ? cell : cell[..CellLengthMax] + "…";
}

/// <summary>One curve that a file would give.</summary>
/// <param name="Curve">Its name; null where it is the only one.</param>
/// <param name="Samples">How many.</param>
/// <param name="Seconds">From the first to the last.</param>
/// <param name="Unit">N or counts.</param>
/// <param name="Least">The least value that was recorded, in that unit; null where no row has one.</param>
/// <param name="Greatest">The greatest.</param>
internal sealed record TracePreviewCurve(string? Curve, int Samples, double Seconds, string Unit, double? Least, double? Greatest)
{
    public static TracePreviewCurve Of(RecordedCurve curve)
    {
        double[] finite = [.. curve.Values.Where(double.IsFinite)];
        return new TracePreviewCurve(curve.Name.Length > 0 ? curve.Name : null, curve.Values.Length,
            curve.TimesSeconds[^1] - curve.TimesSeconds[0], curve.InCounts ? "counts" : "N", finite.Length > 0 ? finite.Min() : null,
            finite.Length > 0 ? finite.Max() : null);
    }

    public string Line() => TerminalText.PreviewCurve(
        Curve, Samples, Seconds, string.Create(CultureInfo.InvariantCulture, $"{Least:G4} … {Greatest:G4} {Unit}"));
}
