using System.Globalization;

namespace RigDaq.Rig.Text;

/// <content>How a link stands and why it ended.</content>
internal static partial class RigText
{
    public static string WentAway(string link) => $"{link} went away.";

    public const string EarlierWriteNotEnded = "an earlier write did not end";
    public const string LongerThanASecond = "it took longer than a second";
    public const string OtherSideGone = "the other side is gone";

    public static string WasClosed(string link) => $"{link} was closed.";

    public static string WritingFailed(string link, string why) => $"Writing to {link} failed: {why}.";

    public static string WritingToPortFailed(string link, string why) => $"{WritingFailed(link, why)} Check its cable and power.";

    public static string IsAway(string link, string why) => $"{link} is away: {why}";

    public static string CannotBeOpenedAt(string path, int baud, string why) =>
        string.Create(CultureInfo.InvariantCulture, $"{path} cannot be opened at {baud} baud: {why} Set another path or rate.");

    public static string NoSuchPath(string path) => $"There is no {path}: plug the device in, or set the path that it has now (see /dev/serial/by-id).";

    public static string NoSerialPort(string path, string why) => $"{path} cannot be opened: {why} Check that it is a serial port.";

    public static string PortInUse(string path) => $"{path} is in use by another program: close it (on Linux \"fuser {path}\" names it), then try again.";

    public static string NotAllowedToRoot(string path) =>
        $"You may not open {path}: ask whoever runs this machine for a udev rule that opens it to a group of yours.";

    public static string NotAllowed(string path, string group) =>
        $"You may not open {path}: add yourself to the group {group} (sudo usermod -aG {group} $USER), then log in again.";

    public const string NothingMoreRead = "nothing more can be read";

    public static string PortAtRate(string path, int baud) => $"{path} at {baud} baud";

    public static string PortWentAway(string link, string why) => $"{link} went away ({why}): check its cable and power. It is opened again when it is back.";

    public static string WentAwayBecause(string link, string why) => $"{link} went away: {why}";

    public static string CannotBeOpened(string link, string why) => $"{link} cannot be opened: {why}";

    public const string NotStarted = "It has not been started.";
    public const string SessionEndedWithProgram = "the program ended";
    public const string SessionLost = "the link was lost";

    public static string IsOpen(string link, string lastTime) =>
        $"{link} is open; the device is asked what it is." + (lastTime.Length > 0 ? $" The last time: {lastTime}" : "");

    public static string BeenSilent(string link, double seconds) => $"{link} has been silent for {seconds} s: check the device's power. It is opened again.";

    public static string DeviceAt(string device, string? link) => $"{device} at {link}";
}
