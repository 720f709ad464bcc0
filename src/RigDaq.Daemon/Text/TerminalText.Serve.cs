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

    public static string ServeOnlookerFailed(string fault) => $"Somebody who looks at the rig failed: {fault}";

    public static string ServeEndFailed(string part, string fault) => $"Ending {part} failed: {fault}. The rest was ended.";

    public const string ServePartRig = "the rig";
    public const string ServePartRelay = "what is published";
    public const string ServePartWeb = "the web host";
    public const string ServePartArchive = "the archive";
    public const string ServePartLog = "the log";

    public static string ServePortReplaced(int wanted, string section, int port) => $"Port {wanted} ({section}) is taken; using {port}.";

    /// <summary>An alarm's text: a pull that told nothing of its specimen.</summary>
    public static string ServeOddEnding(string specimen, string ending, string? reason) => $"Specimen {specimen}: {ending}. {reason}".TrimEnd();

    public const string ServeDatabaseDamaged = "Until then no sequence starts. The rig is shown, and can be stopped, as always.";
}
