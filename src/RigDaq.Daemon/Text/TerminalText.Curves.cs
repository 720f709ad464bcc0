namespace RigDaq.Daemon.Text;

/// <content>Recordings that other programs wrote: options, how they were read, layouts that are kept.</content>
internal static partial class TerminalText
{
    public const string ReadingForceColumn = "The column with the force, by its header or its number from 1; several times for several curves.";
    public const string ReadingTimeColumn = "The column with the time; none where it has none.";
    public const string ReadingPositionColumn = "The column with the position or extension; none where it is not to be used.";
    public const string ReadingCurveColumn = "The column that names the curve of a row; none where it is not to be used.";
    public const string ReadingForceUnit = "The force's unit: N, kN, mN, kgf, gf, lbf and others.";
    public const string ReadingTimeUnit = "The time's unit: s, ms, µs, min, h.";
    public const string ReadingPositionUnit = "The position's unit: mm, cm, m, µm, in and others.";
    public const string ReadingDecimal = "What stands before decimals: point or comma.";
    public const string ReadingSeparator = "What stands between cells: comma, semicolon, tab, space, pipe or one character.";
    public const string ReadingEncoding = "How the text is encoded: utf-8, utf-16, utf-16be, windows-1252, latin-1, gbk.";
    public const string ReadingSkip = "So many lines at the beginning are skipped.";
    public const string ReadingSheet = "A workbook's sheet, by name or number from 1; the first by default.";
    public const string ReadingSign = "keep takes forces as they are, turn with the other sign; by default what grows below zero is turned.";
    public const string ReadingRate = "Samples per second, where the file has no time.";
    public const string ReadingSpeed = "The crosshead's speed, where the file has a position and no time: 0.5 (mm/s), 30mm/min, 2in/min.";
    public const string ReadingLayout = "Reads as a layout says that was kept under this name in the data folder.";
    public const string ReadingSaveLayout = "Keeps how the first file was read under this name in the data folder.";

    public const string ReadingPreview =
        "Only shows how each file would be read: columns and why, first rows, curves, every fault; nothing is analysed or kept.";
    public const string PreviewNotUsed = "not used";
    public const string PreviewCorrect = "  Where that is wrong: --force-column, --time-column, --position-column, --curve-column, the "
        + "units, --decimal, --separator, --encoding, --skip, --sheet, --sign, --rate, --speed.";

    public static string PreviewCurves(string file, int curves) =>
        curves == 1 ? $"{file}: would be read as 1 curve" : $"{file}: would be read as {curves} curves";

    public static string PreviewFaults(string file, int faults) =>
        faults == 1 ? $"{file}: cannot be read so, for 1 reason" : $"{file}: cannot be read so, for {faults} reasons";

    public static string PreviewSheets(IReadOnlyList<string> sheets) => $"  sheets: {string.Join(", ", sheets)}";

    public static string PreviewRow(string cells) => $"    {cells}";

    public static string PreviewCurve(string? name, int samples, double seconds, string range) =>
        FormattableString.Invariant($"  curve{(name is null ? "" : $" “{name}”")}: {samples} samples over {seconds:G4} s, {range}");

    public static string PreviewFault(string fault) => $"  fault: {fault}";

    public const string LayoutNothingRead = "--save-layout: no layout was saved, because no file was read with one: a table with time_s,force_N needs none, the others could not be read.";

    public static string LayoutSaved(string name) => $"Layout “{name}” saved; use it with --layout \"{name}\".";

    public static string TraceCurve(string file, string curve) => $"{file}, {curve}";

    /// <summary>How the text of a file was read.</summary>
    public static string TraceReadAs(string encoding, string? sheet, string? separator, string decimalMark, int? headerLine, int? firstLine)
    {
        string text = sheet is not null ? $"sheet “{sheet}”" : $"{encoding}, between cells {separator}, decimal {(decimalMark == "," ? "comma" : "point")}";
        string header = headerLine is { } line ? $"names in line {line}" : "no names";
        return $"  read as: {text}; {header}, numbers from line {firstLine}";
    }

    public static string TraceReadColumn(string role, int number, string name, string unit, string why) =>
        $"  {role}: column {number}{(name.Length > 0 ? $" “{name}”" : "")}{(unit.Length > 0 ? $" in {unit}" : "")}: {why}";

    public static string TraceTimesFrom(string what) => what == "rate" ? "  time: by the rate you gave" : "  time: by the position and the speed you gave";
}
