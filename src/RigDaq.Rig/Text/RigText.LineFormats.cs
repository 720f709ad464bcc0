using System.Globalization;

namespace RigDaq.Rig.Text;

/// <content>A line format in words, and what is wrong with one.</content>
internal static partial class RigText
{
    public static string ColumnsOutside(int columnsMax, int columns) => $"a line has 0 (any) to {columnsMax} columns, not {columns}";

    public static string ForceColumnOutside(int last, int column) => $"the force's column is 1 to {last}, not {column}";

    public static string TimeColumnOutside(int last, int column) => $"the time's column is 1 to {last}, not {column}";

    public const string ForceAndTimeInOne = "force and time cannot be the same column";

    public static string CannotSeparate(char mark) => $"“{mark}” cannot separate columns";

    public const string CommaTwice = "a comma cannot both separate columns and stand before decimals";

    public static string CountsPerUnitOutside(double countsPerUnit) =>
        string.Create(CultureInfo.InvariantCulture, $"the counts per unit must be above 0, not {countsPerUnit}");

    public static string Format(string columns, int forceColumn, string quantity, double countsPerUnit, string time) =>
        $"{columns}, column {forceColumn} is {quantity}{Resolution(countsPerUnit)}, {time}";

    public static string Separator(char? separator) => separator switch
    {
        null => "blanks",
        ',' => "commas",
        ';' => "semicolons",
        '\t' => "tabs",
        { } other => $"“{other}”",
    };

    public const string Grams = "grams";
    public const string Kilograms = "kilograms";
    public const string Newtons = "newtons";
    public const string Counts = "counts";
    public const string Seconds = "seconds";
    public const string Milliseconds = "milliseconds";
    public const string Microseconds = "microseconds";

    public const string OneNumber = "one number a line";

    public static string AnyColumnsBetween(char? separator) => $"columns between {Separator(separator)}";

    private static string Resolution(double countsPerUnit) =>
        countsPerUnit.Equals(1) ? "" : string.Create(CultureInfo.InvariantCulture, $" (kept at {countsPerUnit:0.######} counts a unit)");

    public static string TimeStands(int column, string unit) => $"column {column} is the device's time in {unit}";

    public const string NoTime = "no time: stamps are made on arrival";
}
