using System.Globalization;

namespace RigDaq.Daemon.Text;

/// <content>The running daemon: the command, and what it says while it runs.</content>
internal static partial class TerminalText
{
    public const string ServeCommand = "The daemon with a real rig.";

    public static string ServeDashboard(Uri address) => $"Dashboard: {address}";

    public static string ServeMqtt(int port, string topics) => string.Create(CultureInfo.InvariantCulture, $"MQTT: 127.0.0.1:{port}, topics below {topics}");

    public static string ServeData(string folder) => $"Data: {folder}";

    public static string ServePortMissing(string source) => $"{source}, key serial.path: missing; expected the rig's port, for example /dev/ttyACM0 (docs/connect.md).";

    public static string ServeLinesMissing(string source) => $"{source}, key serial.lines: missing; rigdaq check looks at the device's lines and proposes it (docs/plain-devices.md).";

    public static string ServePortTaken(int port, string section) => $"Port {port} ({section}.port) is in use: end the program that has it, or set another one (0 for any free one).";

    public const string ServeNoPort = "No port of this machine's loopback address can be had: close programs that hold many connections.";

    public static string ServeOnlookerFailed(string fault) => $"Somebody who looks at the rig failed: {fault}";

    public static string ServeEndFailed(string part, string fault) => $"Ending {part} failed: {fault}. The rest was ended.";

    public const string ServePartRig = "the rig";
    public const string ServePartRelay = "what is published";
    public const string ServePartWeb = "the web host";
    public const string ServePartArchive = "the archive";
    public const string ServePartLog = "the log";

    public static string ServePortReplaced(int wanted, string section, int port) => $"Port {wanted} ({section}) is taken; using {port}.";

    public static string ServePullCutShort(string specimen, DateTimeOffset startedAt, int samples, string ending) =>
        $"Specimen {specimen}: its pull of {startedAt:u} was cut short; {samples} samples are kept, stored as {ending}.";

    public static string ServePullNotStored(string specimen, DateTimeOffset startedAt, string why) =>
        $"Specimen {specimen}: its pull of {startedAt:u} could not be stored: {why} Its capture is kept, and it is tried again at the next start.";

    public static string ServePullSetAside(string specimen, DateTimeOffset startedAt, string why, string file) =>
        $"Specimen {specimen}: no run can be computed from its pull of {startedAt:u}: {why} Its capture is kept as '{file}'; 'rigdaq rebuild' tries it again.";

    public static string ServeCapturesNotRead(string why) =>
        $"What the last session left unfinished could not be looked for: {why} It is tried again at the next start.";

    /// <summary>An alarm's text: a pull that told nothing of its specimen.</summary>
    public static string ServeOddEnding(string specimen, string ending, string? reason) => $"Specimen {specimen}: {ending}. {reason}".TrimEnd();

    public const string ServeDatabaseDamaged = "Until then no sequence starts. The rig is shown, and can be stopped, as always.";

    /// <summary>Kept with a study: why it was changed.</summary>
    public const string ServePlanFrozen = "the first pull froze the plan";

    /// <summary>Kept with a device: why its calibration ended.</summary>
    public static string ServeOverload(string specimen, double newtons, double fullScaleNewtons) =>
        string.Create(CultureInfo.InvariantCulture, $"specimen {specimen} loaded it with {newtons:0} N, its full scale is {fullScaleNewtons:0} N");
}
