using System.Net;
using System.Net.Sockets;

namespace RigDaq.Daemon.Hosting;

/// <summary>Finds a port on this machine's loopback address.</summary>
internal static class PortPicker
{
    /// <summary>The wanted port, or a free one where it is 0 or taken.</summary>
    /// <param name="wanted">0 for any.</param>
    /// <param name="replaced">Whether the wanted port was taken.</param>
    public static int Pick(int wanted, out bool replaced)
    {
        replaced = wanted != 0 && !IsFree(wanted);
        return wanted != 0 && !replaced ? wanted : AnyFree();
    }

    /// <summary>Whether a port can be listened on.</summary>
    public static bool IsFree(int port)
    {
        try
        {
            using var listener = new TcpListener(IPAddress.Loopback, port);
            listener.Start();
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }

    private static int AnyFree()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
