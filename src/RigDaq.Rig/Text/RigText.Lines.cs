namespace RigDaq.Rig.Text;

/// <content>Why a line was not understood.</content>
internal static partial class RigText
{
    public const string CellIsEmpty = "it is empty";
    public const string CellIsNoNumber = "it is no number";
    public const string CellHasComma = "a comma stands in the number: set the decimal comma, or the comma as separator";
    public const string CellHasPoint = "a point stands in the number though the decimal comma is set";
    public const string CellHasText = "there is text in the number";
    public const string CellOverRange = "it stands for “no number” or “over range”";

    public static string OtherColumns(int columns, int expected) => $"it has {columns} columns instead of {expected}: cut short, or another kind of line";

    public static string OnlyColumns(int columns) => $"it has only {columns} columns";

    public static string ForceNotRead(int column, string cell, string why) => $"column {column}, “{cell}”: {why}";

    public static string ForceInOtherUnit(int column, string unit, string set) => $"column {column} is in {unit}, but {set} are set";

    public static string TimeNotRead(int column, string cell, string why) => $"column {column}, the time, “{cell}”: {why}";

    public static string TimeInOtherUnit(int column, string unit, string set) => $"the time in column {column} is in {unit}, but {set} are set";

    public static string LineTooLong(int bytesMax) => $"it is longer than {bytesMax} bytes";

    public const string LineNoText = "it has bytes that are no text";
    public const string TimeDoesNotFit = "its time does not fit the one before";
}
