using System.Globalization;

namespace RigDaq.Daemon.Text;

/// <content>Recordings of others that become runs of a study.</content>
internal static partial class TerminalText
{
    public const string StudyCurvesCommand = "Makes runs of a study from recordings of other programs; the study is made where it is not there.";
    public const string StudyCurvesStudy = "The study's id: small letters, digits, - and _; one that is not there is made.";
    public const string StudyCurvesFiles = "The recordings; without any, the files that the table names, beside it.";
    public const string StudyCurvesTable =
        "Whose each curve is: file,material,condition and, if you like, curve,setting,print,specimen,ending,width_mm,thickness_mm,area_mm2,area_standard_uncertainty_mm2.";
    public const string StudyCurvesMaterial = "Without a table: the material of all files.";
    public const string StudyCurvesCondition = "Without a table: the condition of all files.";
    public const string StudyCurvesSetting = "Without a table: the setting of all files.";
    public const string StudyCurvesPrint = "Without a table: the print that all were cut from.";
    public const string StudyCurvesEnding = "Without a table: how all pieces ended where you saw it: broken, partly broken, slipped out or unbroken. By default the force tells.";
    public const string StudyCurvesWidth = "Without a table: the width of all, in mm; several times for several readings.";
    public const string StudyCurvesThickness = "Without a table: the thickness of all, in mm; several times for several readings.";
    public const string StudyCurvesArea = "Without a table: the section's area of all, in mm².";
    public const string StudyCurvesPreview = "Shows what would happen and keeps nothing.";
    public const string StudyCurvesNothing = "Name the recordings, or a table that names them with --table.";
    public const string StudyCurvesGroupMissing = "Say what the specimens are: --material and --condition for all files, or --table with a row for each curve.";

    public static string StudyCurvesTableAndTyped(string option) => $"{option} is for files without a table; with --table it stands in the table.";

    public static string StudyCurvesUncounted(int runs, int of) =>
        $"{runs} of {of} are not broken by what their force shows, and only broken ones are compared. A recording that stops at the break, or a piece that was torn, pierced or drawn, "
            + "can look so: where you saw it in two, say it with --ending broken or a column ending.";

    public static string StudyCurvesRun(string curve, string specimen, string ending, double? newtons, double? megapascals) => string.Create(CultureInfo.InvariantCulture,
        $"{curve} → {specimen}: {ending}{(newtons is { } force ? $", peak {force:G5} N" : "")}{(megapascals is { } strength ? $", {strength:G4} MPa" : "")}");

    public static string StudyCurvesThere(string curve) => $"{curve}: in the study already, left as it is.";

    public static string StudyCurvesKept(int runs, string study) => runs == 0
        ? $"No new run; the study {study} stays as it is."
        : $"{(runs == 1 ? "1 run" : $"{runs} runs")} joined the study {study}. Next: `rigdaq report {study} --out report.html`, or `rigdaq export {study} --out FOLDER`.";

    public static string StudyCurvesWould(int runs, string study) => $"{(runs == 1 ? "1 run" : $"{runs} runs")} would join the study {study}; nothing was kept.";
}
