using System.Globalization;

namespace RigDaq.Rig.Links;

/// <summary>
/// Tells apart why a port did not open. System.IO.Ports says <see cref="UnauthorizedAccessException"/> for a missing path, a busy
/// port and a missing permission alike; the cause is in the inner exception and, on Unix, in its error number.
/// </summary>
internal static class SerialOpenFaults
{
    private const string GroupDefault = "dialout";

    public static LinkOpenException Explain(SerialLinkSettings settings, Exception e)
    {
        string path = settings.Path;
        if (e is ArgumentException)
        {
            return new LinkOpenException(
                LinkOpenFault.Unusable,
                string.Create(CultureInfo.InvariantCulture, $"{path} cannot be opened at {settings.BaudRate} baud: {e.Message} Set another path or rate."),
                e);
        }

        if (IsMissing(path, e))
        {
            return new LinkOpenException(
                LinkOpenFault.Missing, $"There is no {path}: plug the device in, or set the path that it has now (see /dev/serial/by-id).", e);
        }

        if (e is UnauthorizedAccessException) return Denied(path, e);
        return new LinkOpenException(
            LinkOpenFault.Unusable, $"{path} cannot be opened: {(e.InnerException ?? e).Message} Check that it is a serial port.", e);
    }

    private static bool IsMissing(string path, Exception e) =>
        e is FileNotFoundException or DirectoryNotFoundException
        || e.InnerException is FileNotFoundException or DirectoryNotFoundException
        || (!OperatingSystem.IsWindows() && !File.Exists(path));

    private static LinkOpenException Denied(string path, Exception e)
    {
        if (!OperatingSystem.IsWindows() && !UnixAccess.MayReadAndWrite(path)) return NoPermission(path, UnixAccess.GroupOf(path) ?? GroupDefault, e);
        return new LinkOpenException(
            LinkOpenFault.Busy, $"{path} is in use by another program: close it (on Linux \"fuser {path}\" names it), then try again.", e);
    }

    /// <summary>The path belongs to a group that this user is not in.</summary>
    internal static LinkOpenException NoPermission(string path, string group, Exception e)
    {
        string remedy = group == "root"
            ? "ask whoever runs this machine for a udev rule that opens it to a group of yours"
            : $"add yourself to the group {group} (sudo usermod -aG {group} $USER), then log in again";
        return new LinkOpenException(LinkOpenFault.NoPermission, $"You may not open {path}: {remedy}.", e);
    }
}
