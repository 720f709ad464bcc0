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
}
