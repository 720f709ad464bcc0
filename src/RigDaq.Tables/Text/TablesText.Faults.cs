using System.Globalization;

namespace RigDaq.Tables.Text;

/// <content>What keeps a file from being read.</content>
internal static partial class TablesText
{
    public const string TableEmpty = "empty; a header line was expected.";
    public const string TableWithoutNumbers = "no rows of numbers in it; a table with a force, and a time or a position, was "
            + "expected.";
    public const string TableWithoutRows = "no row has a force.";

    public const string KindBinary = "this is no text: a table was expected, as text (.csv, .txt) or as a workbook (.xlsx, "
            + ".xls).";
    public const string KindPacked = "this is a packed file; unpack it and name the table in it.";
    public const string KindPdf = "this is a PDF; a table was expected, as text (.csv, .txt) or as a workbook (.xlsx, .xls).";
    public const string KindOpenDocument = "this is an OpenDocument file (.ods); save the sheet as .xlsx or as CSV.";

    public const string WorkbookUnreadable = "this workbook cannot be read: damaged, cut off, or with a password. Save it anew "
            + "as .xlsx without a password, or as CSV.";
    public const string OldWorkbookUnreadable = "this workbook (.xls, or one with a password) cannot be read. Save it as .xlsx "
            + "without a password, or as CSV.";
    public const string SheetOfText = "--sheet names a sheet, but this is no workbook.";

    public const string DecimalMixed = "some numbers have a decimal comma and some a decimal point; say which holds with "
            + "--decimal point or --decimal comma.";
    public const string DecimalUnclear =
        "every comma stands before three digits: decimals, or thousands? Say --decimal comma (1,234 is a little more than one) "
                + "or --decimal point (1,234 is a thousand).";

    public const string SpeedWithoutPosition = "--speed needs a column with the position; none was found. Name it with "
            + "--position-column, or say --rate.";
    public const string SpeedGoesBack = "the position goes back, so that a speed alone does not tell the times; say --rate, "
            + "the samples per second.";
    public const string RateAboveZero = "--rate takes samples per second above 0.";
    public const string SpeedAboveZero = "--speed takes a speed above 0.";
    public const string RateAndSpeed = "--rate and --speed both say when samples were taken; one of them is enough.";
    public const string SkipNegative = "--skip takes 0 lines or more.";

    public static string Fault(int? line, string? column, string problem) => (line, column) switch
    {
        ({ } at, { } name) => string.Create(CultureInfo.InvariantCulture, $"line {at}, column {name}: {problem}"),
        ({ } at, null) => string.Create(CultureInfo.InvariantCulture, $"line {at}: {problem}"),
        _ => problem,
    };

    public static string ColumnTwice(string name) => $"the header names the column {name} twice.";

    public static string FaultsMore(int more) => more == 1 ? "1 more fault of this kind." : $"{more} more faults of this kind.";

    public static string TextTooLong(long bytesMax) =>
        $"longer than {bytesMax} bytes, the most that is read of a table with another layout than time_s,force_N; part it, or "
                + $"take every tenth row.";

    public static string WorkbookTooLong(long bytesMax) =>
        $"longer than {bytesMax} bytes, the most that is read of a workbook; save the sheet as CSV.";

    public static string WorkbookUnpacksTooLong(long bytesMax) =>
        $"unpacks to more than {bytesMax} bytes, the most that is read of a workbook; save the sheet as CSV.";

    public static string CellsTooMany(int most) => $"more than {most} cells, the most that is read of a table.";

    public static string ColumnsTooMany(int line, int most) =>
        $"line {line} has more than {most} cells, the most that is read of a row.";

    public static string CurvesTooMany(int most) => $"more than {most} curves, the most that is read of a file.";

    public static string EncodingNotKnown(string said, IEnumerable<string> known) =>
        $"--encoding: “{said}” is not known; expected {List(known)}.";

    public static string EncodingWrong(string name) => $"not {name} text; say --encoding, or save the table as UTF-8.";

    public static string SeparatorNotKnown(string said, IEnumerable<string> known) =>
        $"--separator: “{said}” is not known; expected {List(known)}, or one character.";

    public static string DecimalNotKnown(string said) => $"--decimal: “{said}” is not known; expected point or comma.";

    public static string SignNotKnown(string said) => $"--sign: “{said}” is not known; expected keep or turn.";

    public static string SheetNotThere(string said, IEnumerable<string> sheets) =>
        $"--sheet: there is no sheet “{said}”; there are {List(sheets)}.";

    public static string SheetOthers(string read, IEnumerable<string> sheets) =>
        $"the sheet read was “{read}”; there are {List(sheets)}. Name one with --sheet.";

    public static string UnitNotKnown(string option, string said, IEnumerable<string> known) =>
        $"{option}: “{said}” is not known; expected {List(known)}.";

    public static string ColumnNotThere(string option, string said, IEnumerable<string> columns) =>
        $"{option}: there is no column “{said}”; the columns are {List(columns)}.";

    public static string NoForce(bool hasHeader, IEnumerable<string> columns) => hasHeader
        ? $"the header lacks a column force_N or counts, and no other column's name or unit says that it is a force: "
                + $"{List(columns)}. Name it with --force-column, and its unit with --force-unit."
        : $"there is no header, and which column is the force cannot be told: {List(columns)}. Name it with --force-column, "
                + $"and the time with --time-column.";

    public static string NoTime(bool hasPosition, IEnumerable<string> columns) =>
        $"no column is a time: {List(columns)}. Name one with --time-column, or say --rate (samples per "
                + $"second){(hasPosition ? " or --speed (of the crosshead)" : "")}.";

    public static string CellsTooFew(int cells, int columns) => $"{Cells(cells)} where {columns} columns were expected.";

    public static string CellsTooMany(int cells, int columns) =>
        $"{Cells(cells)} where the header names {columns} columns (decimal commas between commas? Save the table with "
                + $"semicolons or tabs).";

    public static string CellNoNumber(string cell) => $"“{cell}” is not a number.";

    public static string CellNotFinite(string cell) => $"“{cell}” is not a finite number.";

    public static string CellNoClock(string cell) => $"“{cell}” is not a time like 12:34:56.7.";

    public static string CellOtherMark(string cell, char mark) =>
        $"“{cell}” is not a number with a decimal {(mark == ',' ? "comma" : "point")}, as the others in this file.";

    public static string TimeFalls(string time) =>
        $"{time} lies before the time in the row above; times must rise. If this column is not the time, name it with "
                + $"--time-column, or say --rate.";

    private static string Cells(int cells) => cells == 1 ? "1 cell" : $"{cells} cells";
}
