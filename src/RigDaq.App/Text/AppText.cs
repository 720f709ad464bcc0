using RigDaq.Tables.Readings;
using RigDaq.Text;

namespace RigDaq.App.Text;

/// <summary>What chooses among texts of this room, and how their figures are written. What they say stands in <c>en.json</c>.</summary>
internal static partial class AppText
{
    // Whether the machine is ready: the command, each thing that is looked at, and its remedy.

    public static Sentence CheckClockWrong(DateTimeOffset now) => CheckClockWrongText(now);

    public static Sentence CheckCalibrated(double toNewtons, DateTimeOffset until) => CheckCalibratedText(toNewtons, until);

    public static Sentence CheckCalibrationEnded(DateTimeOffset until) => CheckCalibrationEndedText(until);

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

    public static Sentence LayoutNotThere(string name, IReadOnlyList<string> known) =>
        LayoutNotThereText(name, known.Count > 0, known);

    // What is wrong with a file that was handed in.

    public static string InputIn(string file, string problem) => $"{file}: {problem}";

    public static Sentence InputColumnsMissing(IReadOnlyList<string> columns, bool semicolons) =>
        InputColumnsMissingText(columns.Count > 1, columns, semicolons);

    // The lines that a device prints: how they look, and how they could be read.

    public static Sentence LinesRead(int lines, double share, string format) => LinesReadText(lines, 100 * share, format);

    /// <summary>Several findings as one sentence.</summary>
    public static string LinesSentence(IEnumerable<string> parts)
    {
        string all = string.Join("; ", parts);
        return all.Length == 0 ? "" : char.ToUpperInvariant(all[0]) + all[1..].TrimEnd('.') + ".";
    }

    // What commands at the rig have in common.

    /// <param name="seconds">How long it was waited.</param>
    /// <param name="what">What for.</param>
    /// <param name="link">What the link says.</param>
    /// <param name="sequence">What the sequence says; null without one.</param>
    public static string RigWaited(double seconds, string what, string link, string? sequence) =>
        RigWaitedPartText(seconds, what, sequence, link).TrimEnd();

    // The running daemon: the command, and what it says while it runs.

    public static Sentence ServePullCutShort(string specimen, DateTimeOffset startedAt, int samples, string ending) =>
        ServePullCutShortText(specimen, startedAt, samples, ending);

    public static Sentence ServePullNotStored(string specimen, DateTimeOffset startedAt, string why) =>
        ServePullNotStoredText(specimen, startedAt, why);

    public static Sentence ServePullSetAside(string specimen, DateTimeOffset startedAt, string why, string file) =>
        ServePullSetAsideText(specimen, startedAt, why, file);

    // Recordings of others that become runs of a study.

    public static Sentence CurveTableTwice(string name, string curve, int line) => CurveTableTwiceText(CurveName(name, curve), line);

    public static string CurveRowWhich(string said, IReadOnlyList<string> curves)
        => said.Length == 0 ? CurveRowWhichText(curves.Count, curves.Take(20))
        : CurveRowWhichText2(said, curves.Take(20).Select(curve => curve.Length == 0 ? CurveRowWhichPartText : curve));

    public static string CurveName(string file, string curve) => curve.Length == 0 ? file : $"{file}, {curve}";

    public static Sentence CurveReadAs(string role, string column, string unit)
        => CurveReadAsText(role, column.Length > 0, column, unit.Length > 0, unit);

    // Earlier results and the control.

    public static Sentence GroupNotThere(string text, IReadOnlyList<string> groups) =>
        GroupNotThereText(text, groups.Count > 0, groups);
}
