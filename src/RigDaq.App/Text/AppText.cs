using RigDaq.Tables.Readings;
using RigDaq.Text;

namespace RigDaq.App.Text;

/// <summary>What chooses among texts of this room, and how their figures are written. What they say stands in <c>en.json</c>.</summary>
internal static partial class AppText
{
    // What is wrong with a configuration. Keys and the words that they take are no texts, and stand here only inside sentences.

    public static string ConfigProblem(string source, string problem) => $"{source}: {problem}";

    public static string ConfigOneOf(IEnumerable<string> words) => string.Join(ConfigOneOfPartText, words);

    // Recordings that other programs wrote: options, how they were read, layouts that are kept.

    public static string CurveFault(string file, TableFault fault) => fault switch
    {
        { Line: { } line, Column: { } column } => InputAtCell(file, line, column, fault.Problem),
        { Line: { } line } => InputAtLine(file, line, fault.Problem),
        _ => InputIn(file, fault.Problem),
    };

    public static Sentence LayoutNotThere(string name, IReadOnlyList<string> known) => LayoutNotThereText(name, known.Count > 0, known);

    // What is wrong with a file that was handed in.

    public static string InputIn(string file, string problem) => $"{file}: {problem}";

    public static Sentence InputColumnsMissing(IReadOnlyList<string> columns, bool semicolons) =>
        InputColumnsMissingText(columns.Count > 1, columns, semicolons);

    // Recordings of others that become runs of a study.

    public static Sentence CurveTableTwice(string name, string curve, int line) => CurveTableTwiceText(CurveName(name, curve), line);

    public static Sentence CurveRowWhich(string said, IReadOnlyList<string> curves) => said.Length == 0 ? CurveRowWhichText(curves.Count,
        curves.Take(20)) : CurveRowWhichText2(said, curves.Take(20).Select(curve => curve.Length == 0 ? CurveRowWhichPartText : curve));

    public static string CurveName(string file, string curve) => curve.Length == 0 ? file : $"{file}, {curve}";

    public static Sentence CurveReadAs(string role, string column, string unit) =>
        CurveReadAsText(role, column.Length > 0, column, unit.Length > 0, unit);

    // Earlier results and the control.

    public static Sentence GroupNotThere(string text, IReadOnlyList<string> groups) => GroupNotThereText(text, groups.Count > 0, groups);
}
