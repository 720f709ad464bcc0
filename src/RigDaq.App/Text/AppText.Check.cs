using System.Globalization;

namespace RigDaq.App.Text;

/// <content>Whether the machine is ready: the command, each thing that is looked at, and its remedy.</content>
internal static partial class AppText
{
    public const string CheckPriorityRaised = "serve gets its turn before other programs (niceness -10)";
    public const string CheckPriorityNotNeeded = "nothing is asked for on this system";

    public static string CheckPriorityRefused(string why) =>
        $"{why}: serve goes on without; on a busy machine a sequence may then be held. As a service: Nice=-10 in its unit; else a line \"USER - nice -10\" in /etc/security/limits.conf.";

    public const string CheckDashboardAnyPort = "any free port";
    public const string CheckBrokerOff = "off: nothing is published";
    public const string CheckBrokerAnyPort = "embedded, any free port";
    public const string CheckPortNotSet = "serial.path is not set: name the rig's port in the configuration (docs/connect.md).";
    public const string CheckHello = "the device's hello";
    public const string CheckStamps = "stamps";
    public const string CheckNotCalibrated = "none for this device: calibrate it before anything is pulled.";
    public const string CheckDevicePortMissing = "key serial.path: missing; name the device's port in the configuration or as RIGDAQ__SERIAL__PATH.";
    public const string CheckLineEnded = "The line has ended: nothing more comes from the device.";

    public static string CheckStarted(string why) => $"The device started because: {why}.";

    public static string CheckClockWrong(DateTimeOffset now) => $"it says {now:u}, which cannot be: set the machine's clock, or runs carry wrong dates.";

    public static string CheckSpace(long freeMegabytes, string folder) => string.Create(CultureInfo.InvariantCulture, $"{freeMegabytes} MB free for {folder}");

    public static string CheckSpaceWanted(string space, long megabytesMin) => $"{space}: make room, at least {megabytesMin} MB.";

    public static string CheckDashboardPortFree(int port) => $"port {port} is free";

    public static string CheckDashboardPortTaken(int port) => $"port {port} is in use: end the program that has it, or set http.port.";

    public static string CheckBrokerTakes(string host, int port, string? user, bool tls) =>
        $"{host}:{port} takes this rig's messages{(user is null ? "" : $", logged in as {user}")}{(tls ? ", over TLS" : "")}";

    public static string CheckBrokerPortFree(int port) => $"embedded, port {port} is free";

    public static string CheckBrokerPortTaken(int port) => $"port {port} is in use: end the program that has it (another broker?), set mqtt.port, or use that broker with mqtt.broker external.";

    public static string CheckPort(string path, int baud) => $"{path} at {baud} baud";

    public static string CheckDeviceSaid(string name, string id, int firmware, double? samplesPerSecond, long framesBad) =>
        string.Create(CultureInfo.InvariantCulture, $"{name} ({id}), firmware {firmware}, {samplesPerSecond:0.#} samples/s, {framesBad} damaged frames");

    public static string CheckClaimed(string warning) => $"{warning} Calibrate it.";

    public static string CheckCalibrated(double toNewtons, DateTimeOffset until) => string.Create(CultureInfo.InvariantCulture, $"to {toNewtons:0.#} N, valid until {until:yyyy-MM-dd}");

    public static string CheckCalibrationEnded(DateTimeOffset until) => string.Create(CultureInfo.InvariantCulture, $"ended on {until:yyyy-MM-dd}: calibrate again.");
}
