using System.Globalization;

namespace RigDaq.Daemon.Text;

/// <content>The demo: the command, what it says while it runs, and what its invented study is called.</content>
internal static partial class TerminalText
{
    public const string DemoCommand = "The daemon with a virtual rig, an embedded broker, a data folder of its own and the dashboard.";
    public const string DemoData = "The data folder; by default the demo's own below the user's data folder.";
    public const string DemoHttp = "The dashboard's port; 0 for any free one.";
    public const string DemoMqtt = "The broker's port; 0 for any free one.";
    public const string DemoSeed = "The same seed gives the same strengths.";
    public const string DemoTimeScale = "The rig's clock runs so many times faster; safety timers stay in wall time.";
    public const string DemoBreaks = "How many specimens to break; few give fewer groups, with at least three each.";
    public const string DemoExit = "Write the report and end, instead of staying up.";
    public const string DemoChannels = "Give the virtual rig an extensometer, a thermometer and a second cell besides its force.";
    public const string DemoInProcess = "Connect the virtual rig by pipes, not by a pseudo-terminal.";

    public const string DemoHello = "the virtual rig's hello";
    public const string DemoHome = "the home position";
    public const string DemoEnd = "the end of the sequence";
    public const string DemoWithoutClass = "Calibration: no class";
    public const string DemoNoFigure = "none";

    public const string DemoStudy = "Kestrel Lane Workshop: does the cooling fan weaken the layers?";
    public const string DemoNotPrinted = "foamed in the nozzle, layers did not close";
    public const string DemoSetting = "nozzle temperature";
    public const string DemoStudyMade = "made by the demo";
    public const string DemoPerson = "the demo";
    public const string DemoPlace = "Kestrel Lane Workshop (invented)";
    public const string DemoCell = "virtual cell";
    public const string DemoLine = "virtual rig in this process";

    public static string DemoRefused(string option, string expected) => $"{option}: expected {expected}.";

    public static string DemoReport(string file) => $"Report: {file}";

    public static string DemoReportOfRunning(string file) => $"Report: {file}. Ctrl-C ends the daemon.";

    public static string DemoStudyDone(string study, int runs, IEnumerable<string> endings) => $"Study {study}: {runs} runs ({string.Join(", ", endings)})";

    public static string DemoEnding(int runs, string ending) => $"{runs} {ending}";

    public static string DemoCalibrationClass(double value, double? fromNewtons, double? toNewtons) => string.Create(CultureInfo.InvariantCulture,
        $"Calibration: class {value} from {fromNewtons:0.#} N to {toNewtons:0.#} N (the rig's own check, no accredited verification)");

    public static string DemoGroup(string material, decimal? celsius, string condition, string mean, string unit, int strengths, string drawn, string population) =>
        string.Create(CultureInfo.InvariantCulture, $"  {material} {celsius} °C {condition}: {mean} {unit} from {strengths} (drawn {drawn}, population {population})");

    public static string DemoCalibrating(string series, bool preload) => $"Calibrating with virtual weights: {(preload ? series : $"series {series}")}.";

    public static string DemoCalibrationLate(double minutes, string instruction) => $"The virtual calibration did not end within {minutes:0} min: {instruction}";

    public static string DemoWeight(double kilograms) => FormattableString.Invariant($"{kilograms} kg");

    public static string DemoWeight(double kilograms, int number) => FormattableString.Invariant($"{kilograms} kg no. {number}");

    public static string DemoBreaking(int specimens, int groups) =>
        $"Breaking {SpecimensOf(specimens)} of {groups} group{(groups == 1 ? "" : "s")}, unattended.";

    public static string DemoHeld(string reason) => $"The sequence is held: {reason}";

    public static string DemoStudyGone(string study, string folder) => $"The study {study} is not in {folder} any more.";

    /// <summary>How far the sequence is, in columns.</summary>
    public static string DemoProgress(int done, int specimens, string specimen, string ending, string strength) => $"{done,4} of {specimens}  {specimen,-12} {ending}{strength}";
}
