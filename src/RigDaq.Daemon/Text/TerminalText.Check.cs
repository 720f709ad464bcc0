namespace RigDaq.Daemon.Text;

/// <content>Whether the machine is ready: the command, each thing that is looked at, and its remedy.</content>
internal static partial class TerminalText
{
    public const string CheckCommand = "Is this machine ready: port, permissions, store, broker, clock, calibration; each with its remedy.";
    public const string CheckDevice = "Hold the connected device to PROTOCOL.md instead; nothing is moved. Takes about 12 s.";

    public const string CheckData = "Hold what is in the data folder against itself instead (journal, captures, database, photos); nothing is changed.";

    /// <summary>One thing that was looked at; both beginnings are equally wide.</summary>
    public static string CheckFinding(bool inOrder, string what, string seen) => $"{(inOrder ? "in order    " : "not in order")}  {what}: {seen}";

    public static string CheckDataDone(string folder, int studies, int calibrations, int runs, int findings) =>
        $"{folder}: {studies} studies, {calibrations} calibrations, {runs} runs; {(findings == 0 ? "journal, captures and database agree" : $"{findings} findings")}";

    public static string CheckConformance(string outcome, int section, string check, string detail) =>
        $"{outcome,-12}PROTOCOL.md {section}: {check}{(detail.Length > 0 ? $": {detail}" : "")}";
}
