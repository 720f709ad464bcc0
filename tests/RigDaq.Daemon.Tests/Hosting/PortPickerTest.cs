using System.Net;
using System.Net.Sockets;
using RigDaq.App.Rigs;

namespace RigDaq.Daemon.Tests.Hosting;

public sealed class PortPickerTest
{
    [Fact]
    public void Replaces_a_port_that_is_taken_and_says_so()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        int taken = ((IPEndPoint)listener.LocalEndpoint).Port;
        using Socket picked = PortPicker.Take(taken, out bool replaced);
        Assert.True(replaced);
        Assert.NotEqual(taken, PortPicker.PortOf(picked));
    }

    [Fact]
    public void What_was_taken_is_taken_from_that_moment_on()
    {
        using Socket first = PortPicker.Take(0, out bool replaced);
        Assert.False(replaced);
        Assert.False(PortPicker.IsFree(PortPicker.PortOf(first)));
        using Socket second = PortPicker.Take(PortPicker.PortOf(first), out replaced);
        Assert.True(replaced);
        int port = PortPicker.PortOf(first);
        first.Dispose();
        Assert.True(PortPicker.IsFree(port));
    }
}
