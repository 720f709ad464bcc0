using System.Net;
using System.Net.Sockets;
using RigDaq.Daemon.Hosting;

namespace RigDaq.Daemon.Tests.Hosting;

public sealed class PortPickerTest
{
    [Fact]
    public void Replaces_a_port_that_is_taken_and_says_so()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        int taken = ((IPEndPoint)listener.LocalEndpoint).Port;
        int picked = PortPicker.Pick(taken, out bool replaced);
        Assert.True(replaced);
        Assert.NotEqual(taken, picked);
        Assert.True(PortPicker.IsFree(picked));
    }

    [Fact]
    public void Any_free_port_is_no_replacement()
    {
        Assert.True(PortPicker.Pick(0, out bool replaced) > 0);
        Assert.False(replaced);
    }
}
