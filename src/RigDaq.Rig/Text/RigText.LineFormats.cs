using System.Globalization;
using RigDaq.Rig.PlainDevices;

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

    public static string Format(LineFormat format) => string.Create(
        CultureInfo.InvariantCulture, $"{Columns(format)}, column {format.ForceColumn} is {Word(format.Quantity)}{Resolution(format.CountsPerUnitInForce)}, {Time(format)}");

    public static string Separator(char? separator) => separator switch
    {
        null => "blanks",
        ',' => "commas",
        ';' => "semicolons",
        '\t' => "tabs",
        { } other => $"“{other}”",
    };

    private static string Word(LineQuantity quantity) => quantity switch
    {
        LineQuantity.Grams => "grams",
        LineQuantity.Kilograms => "kilograms",
        LineQuantity.Newtons => "newtons",
        _ => "counts",
    };

    private static string Word(LineTimeUnit unit) => unit switch
    {
        LineTimeUnit.Seconds => "seconds",
        LineTimeUnit.Milliseconds => "milliseconds",
        _ => "microseconds",
    };

    private static string Columns(LineFormat format) => format.Columns switch
    {
        1 => "one number a line",
        > 0 => $"{format.Columns} columns between {Separator(format.Separator)}",
        _ => $"columns between {Separator(format.Separator)}",
    };

    private static string Resolution(double countsPerUnit) =>
        countsPerUnit.Equals(1) ? "" : string.Create(CultureInfo.InvariantCulture, $" (kept at {countsPerUnit:0.######} counts a unit)");

    private static string Time(LineFormat format) => format.TimeColumn is { } column
        ? $"column {column} is the device's time in {Word(format.TimeUnit)}"
        : "no time: stamps are made on arrival";
}
