using System.Net;
using System.Net.Sockets;
using RigDaq.App.Text;

namespace RigDaq.App.Rigs;

/// <summary>Finds a port on this machine's loopback address, and takes it at once: a port that is only looked at may be another program's a
/// moment later.</summary>
internal static class PortPicker
{
    /// <summary>Takes the wanted port, or a free one where it is 0 or taken.</summary>
    /// <param name="wanted">0 for any.</param>
    /// <param name="replaced">Whether the wanted port was taken by somebody else.</param>
    /// <returns>A socket that listens; whoever gets it disposes it.</returns>
    public static Socket Take(int wanted, out bool replaced)
    {
        Socket? socket = wanted == 0 ? null : TryBind(wanted);
        replaced = wanted != 0 && socket is null;
        return socket ?? TryBind(0) ?? throw new IOException(AppText.ServeNoPort);
    }

    /// <summary>The port that a bound socket has.</summary>
    public static int PortOf(Socket socket) => ((IPEndPoint)socket.LocalEndPoint!).Port;

    /// <summary>Whether a port can be listened on.</summary>
    public static bool IsFree(int port)
    {
        using Socket? socket = TryBind(port);
        return socket is not null;
    }

    private static Socket? TryBind(int port)
    {
        var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        try
        {
            socket.Bind(new IPEndPoint(IPAddress.Loopback, port));
            // Only a socket that listens keeps others away from its port.
            socket.Listen();
            return socket;
        }
        catch (SocketException)
        {
            socket.Dispose();
            return null;
        }
    }
}
