namespace RigDaq.App.Text;

/// <content>What is wrong with a file that was handed in.</content>
internal static partial class AppText
{
    public const string InputNoSuchFile = "there is no such file.";
    public const string InputIsFolder = "this is a folder; a CSV file was expected.";
    public const string InputEmpty = "empty; a header line was expected.";
    public static string InputNotPlain(string shown) => $"“{shown}” holds control characters (written out here).";

    public const string InputQuotationMark = "a quotation mark in the wrong place.";
    public const string InputCellEmpty = "empty; a number was expected.";

    public static string InputIn(string file, string problem) => $"{file}: {problem}";

    public static string InputAtLine(string file, int line, string problem) => $"{file}, line {line}: {problem}";

    public static string InputAtCell(string file, int line, string column, string problem) => $"{file}, line {line}, column {column}: {problem}";

    public static string InputFaultsMore(int more) => more == 1 ? "1 more fault." : $"{more} more faults.";

    public static string InputCellTooLong(int charactersMax) => $"a cell of more than {charactersMax} characters: this is no table.";

    public static string InputTooLong(long bytesMax) => $"longer than {bytesMax} bytes, the most that is read.";

    public static string InputNotUtf8(string file) => $"{file}: not UTF-8 text; save the table as UTF-8.";

    public static string InputNoPermission(string file) => $"{file}: no permission to read it.";

    public static string InputColumnTwice(string column) => $"the header names the column {column} twice.";

    public static string InputCellsTooMany(int cells, int columns) => $"{cells} cells where the header names {columns} columns (a decimal comma? use a point).";

    public static string InputCellsTooFew(int cells, int columns) => $"{cells} cells where the header names {columns} columns.";

    public static string InputColumnsMissing(IReadOnlyList<string> columns, bool semicolons) =>
        $"the header lacks the column{(columns.Count > 1 ? "s" : "")} {string.Join(", ", columns)}.{(semicolons ? " Cells are separated by commas, not semicolons." : "")}";

    public static string InputComma(string typed) => $"“{typed}” has a comma; write the number with a decimal point.";

    public static string InputNotFinite(string typed) => $"“{typed}” is not a finite number.";

    public static string InputNotDecimal(string typed, bool comma) => $"“{typed}” is not a decimal number{(comma ? "; write it with a decimal point" : "")}.";
}
