using RigDaq.Tables.Readings;

namespace RigDaq.App.Text;

/// <content>Recordings that other programs wrote: options, how they were read, layouts that are kept.</content>
internal static partial class AppText
{
    public static string ReadingSpeedNone(string said) => $"--speed: “{said}” is no speed above 0; expected for example 0.5 (mm/s), 30mm/min or 2in/min.";

    public static string CurveFault(string file, TableFault fault) => fault switch
    {
        { Line: { } line, Column: { } column } => InputAtCell(file, line, column, fault.Problem),
        { Line: { } line } => InputAtLine(file, line, fault.Problem),
        _ => InputIn(file, fault.Problem),
    };

    public static string CurveFileTooLong(long bytesMax) =>
        $"longer than {bytesMax} bytes, the most that is read of a table with another layout than time_s,force_N; part it, or take every tenth row.";

    public static string LayoutName(string name) => $"“{name}” cannot be a layout's name: letters, digits, blanks, - and _, at most 60 of them, were expected.";

    public static string LayoutNotThere(string name, IReadOnlyList<string> known) =>
        $"There is no layout called “{name}”. {(known.Count == 0 ? "None is kept yet; --save-layout keeps one" : $"Layouts: {string.Join(", ", known)}")}.";

    public static string LayoutBroken(string name, string file) => $"The layout “{name}” cannot be read ({file}): keep it anew with --save-layout, or delete the file.";

    public static string LayoutsTooMany(int most) => $"There are {most} layouts, the most that are kept; delete one.";
}
