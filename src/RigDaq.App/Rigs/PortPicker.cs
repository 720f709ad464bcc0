using System.Net;
using System.Net.Sockets;
using RigDaq.App.Text;

namespace RigDaq.App.Rigs;

/// <summary>Finds a port on this machine's loopback address, or on all of its addresses, and takes it at once: a port that is only looked
/// at may be another program's a moment later.</summary>
internal static class PortPicker
{
    /// <summary>Takes the wanted port, or a free one where it is 0 or taken.</summary>
    /// <param name="wanted">0 for any.</param>
    /// <param name="replaced">Whether the wanted port was taken by somebody else.</param>
    /// <returns>A socket that listens; whoever gets it disposes it.</returns>
    public static Socket Take(int wanted, out bool replaced)
    {
        Socket? socket = wanted == 0 ? null : TryBind(new IPEndPoint(IPAddress.Loopback, wanted));
        replaced = wanted != 0 && socket is null;
        return socket ?? TryBind(new IPEndPoint(IPAddress.Loopback, 0)) ?? throw new IOException(AppText.ServeNoPort);
    }

    /// <summary>Takes a port of all addresses of this machine, of both families where it has both.</summary>
    /// <param name="wanted">0 for any.</param>
    /// <returns>A socket that listens; null where somebody else has the port.</returns>
    public static Socket? TakeEverywhere(int wanted) =>
        TryBind(Socket.OSSupportsIPv6 ? new IPEndPoint(IPAddress.IPv6Any, wanted) : new IPEndPoint(IPAddress.Any, wanted));

    /// <summary>The port that a bound socket has.</summary>
    public static int PortOf(Socket socket) => ((IPEndPoint)socket.LocalEndPoint!).Port;

    /// <summary>Whether a port can be listened on.</summary>
    public static bool IsFree(int port)
    {
        using Socket? socket = TryBind(new IPEndPoint(IPAddress.Loopback, port));
        return socket is not null;
    }

    private static Socket? TryBind(IPEndPoint place)
    {
        var socket = new Socket(place.AddressFamily, SocketType.Stream, ProtocolType.Tcp);
        try
        {
            if (place.AddressFamily == AddressFamily.InterNetworkV6) socket.DualMode = true;
            socket.Bind(place);
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
