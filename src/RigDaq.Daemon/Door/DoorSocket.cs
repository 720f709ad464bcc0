using System.Net.Sockets;

namespace RigDaq.Daemon.Door;

/// <summary>The socket that commands of this machine come to, bound before the web host starts: a file system without sockets (some cards
/// and shares) costs the door, not the daemon.</summary>
internal static class DoorSocket
{
    private const UnixFileMode OwnersOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite;

    /// <summary>Binds it; null where there is no place for one.</summary>
    /// <param name="dataFolder">The folder, whose lock this process holds.</param>
    /// <param name="why">Why there is none.</param>
    public static Socket? Bind(string dataFolder, out string why)
    {
        why = "";
        foreach (string path in DoorAddress.SocketPaths(dataFolder))
        {
            var socket = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
            try
            {
                DoorAddress.MakeWay(path);
                socket.Bind(new UnixDomainSocketEndPoint(path));
                if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(path, OwnersOnly);
                return socket;
            }
            catch (Exception e) when (e is SocketException or IOException or UnauthorizedAccessException)
            {
                why = e.Message;
                socket.Dispose();
            }
        }

        return null;
    }
}
