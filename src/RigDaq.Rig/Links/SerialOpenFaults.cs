using RigDaq.Rig.Text;

namespace RigDaq.Rig.Links;

/// <summary>Tells apart why a port did not open. System.IO.Ports says <see cref="UnauthorizedAccessException"/> for a missing path, a busy
/// port and a missing permission alike; the cause is in the inner exception and, on Unix, in its error number.</summary>
internal static class SerialOpenFaults
{
    private const string GroupDefault = "dialout";

    public static LinkOpenException Explain(SerialLinkSettings settings, Exception e)
    {
        string path = settings.Path;
        if (e is ArgumentException)
            return new LinkOpenException(LinkOpenFault.Unusable, RigText.CannotBeOpenedAt(path, settings.BaudRate, e.Message), e);

        if (IsMissing(path, e)) return new LinkOpenException(LinkOpenFault.Missing, RigText.NoSuchPath(path), e);
        if (e is UnauthorizedAccessException) return Denied(path, e);
        return new LinkOpenException(LinkOpenFault.Unusable, RigText.NoSerialPort(path, (e.InnerException ?? e).Message), e);
    }

    private static bool IsMissing(string path, Exception e) => e is FileNotFoundException or DirectoryNotFoundException
        || e.InnerException is FileNotFoundException or DirectoryNotFoundException || (!OperatingSystem.IsWindows() && !File.Exists(path));

    private static LinkOpenException Denied(string path, Exception e)
    {
        if (!OperatingSystem.IsWindows() && !UnixAccess.MayReadAndWrite(path))
            return NoPermission(path, UnixAccess.GroupOf(path) ?? GroupDefault, e);
        return new LinkOpenException(LinkOpenFault.Busy, RigText.PortInUse(path), e);
    }

    /// <summary>The path belongs to a group that this user is not in.</summary>
    internal static LinkOpenException NoPermission(string path, string group, Exception e)
    {
        return new LinkOpenException(LinkOpenFault.NoPermission, group == "root" ? RigText.NotAllowedToRoot(path)
            : RigText.NotAllowed(path, group), e);
    }
}
