using System.Globalization;

namespace RigDaq.Daemon.Text;

/// <content>How far the machine gives: the commands, and what was measured.</content>
internal static partial class TerminalText
{
    public const string ComplianceCommand = "Measure with a stiff bar how far the machine gives, and take that off extensions.";
    public const string ComplianceFitCommand = "Measure it from a recorded trace.";
    public const string ComplianceFitFile = "A trace of a pull on the bar: CSV with time_s, position_mm and force_N or counts.";
    public const string ComplianceFitCalibration = "What `rigdaq calibration fit --json` printed; needed for counts.";
    public const string ComplianceFitKeep = "Put it in force for this device (its id): later runs have it taken off.";
    public const string ComplianceRunCommand = "Measure it from a stored run of a pull on the bar.";
    public const string ComplianceRunId = "The id of a stored run of a pull on the bar.";
    public const string ComplianceRunKeep = "Put it in force for the run's device: later runs have it taken off.";
    public const string ComplianceListCommand = "Show the compliances that are kept; of each device the last one that was measured is in force, as it was fitted under the calibration in force.";
    public const string ComplianceListDevice = "Only this device's.";
    public const string ComplianceRefitCommand = "Fit one anew under another calibration, from its raw pulls; the first one stays.";
    public const string ComplianceRefitId = "Its id; rigdaq compliance list shows it.";
    public const string ComplianceRefitCalibration = "The calibration's id; without it the one in force.";
    public const string ComplianceBarLength = "The bar's free length between the grips, in mm; with its section its own give is taken off.";
    public const string ComplianceBarSection = "The bar's section, in mm².";
    public const string ComplianceBarModulus = "Its modulus, in GPa: steel 200 to 210, aluminium alloys about 70.";
    public const string ComplianceRemarks = "Grips, bar and what else is worth knowing later.";

    public const string ComplianceNoneKept = "None is kept: extensions have the machine's own give in them. Measure it with rigdaq compliance measure.";

    public static string ComplianceDeviceNotPossible(string option) => $"{option}: a device's id has 16 hexadecimal digits; rigdaq check shows it.";

    public static string ComplianceNotThere(string compliance) => $"COMPLIANCE: there is no compliance {compliance}; rigdaq compliance list shows them.";

    /// <param name="compliance">Its id.</param>
    /// <param name="calibration">The calibration it was fitted under.</param>
    /// <param name="inForce">The one in force.</param>
    /// <param name="fitted">The same measurement under that; null where there is none.</param>
    public static string ComplianceOtherCalibration(string? compliance, string? calibration, string inForce, string? fitted) =>
        $"  its forces are of the calibration {calibration}, in force is {inForce}: " + (fitted is null ? $"rigdaq compliance refit {compliance}" : $"see compliance {fitted}");

    public static string ComplianceLeft(string compliance, string why) => $"The compliance {compliance} is left as it was measured: {why}";

    public static string ComplianceRunNotThere(string run) => $"RUN: there is no run {run} with a trace in this data folder.";

    public static string ComplianceRunWithoutCalibration(string calibration, string run) => $"The calibration {calibration} of run {run} is not known: its forces cannot be computed.";

    public static string ComplianceBarHalfSaid(string option) => $"{option}: missing; length and section are both needed to take the bar's own give off.";

    public static string ComplianceOfFile(string file) => $"the file {file}";

    public static string ComplianceOfRun(string run) => $"run {run}";

    public static string ComplianceHead(string? id, DateTimeOffset? measuredAt, string? device) =>
        string.Create(CultureInfo.InvariantCulture, $"compliance {id} of {measuredAt:yyyy-MM-dd HH:mm} UTC, device {device}");

    public static string ComplianceGive(double millimetresPerNewton, double standardUncertaintyMillimetresPerNewton) => string.Create(CultureInfo.InvariantCulture,
        $"the machine gives {1000 * millimetresPerNewton:G4} µm/N (standard uncertainty {1000 * standardUncertaintyMillimetresPerNewton:G2} µm/N), a stiffness of {1 / millimetresPerNewton:G4} N/mm");

    public static string ComplianceLine(double fromNewtons, double toNewtons, int samples, string source) => string.Create(CultureInfo.InvariantCulture,
        $"  a line from {fromNewtons:0.#} to {toNewtons:0.#} N through {samples} samples of {source}");

    public static string ComplianceScatter(double millimetres, double lowerMillimetresPerNewton, double upperMillimetresPerNewton) => string.Create(CultureInfo.InvariantCulture,
        $"  positions scatter by {1000 * millimetres:G2} µm about it; lower half {1000 * lowerMillimetresPerNewton:G4} µm/N, upper half {1000 * upperMillimetresPerNewton:G4} µm/N");

    public static string ComplianceOfBar(double millimetresPerNewton) => string.Create(CultureInfo.InvariantCulture, $"  the bar's own give, taken off: {1000 * millimetresPerNewton:G3} µm/N");
}
