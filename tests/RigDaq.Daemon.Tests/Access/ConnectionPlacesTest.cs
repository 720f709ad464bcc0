using System.Net;
using RigDaq.Web.Access;

namespace RigDaq.Daemon.Tests.Access;

/// <summary>One device from elsewhere fills no port.</summary>
public sealed class ConnectionPlacesTest
{
    [Fact]
    public void ConnectionsOfOneMax_for_an_address_and_ConnectionsMax_for_all()
    {
        var places = new ConnectionPlaces();
        int taken = 0;
        for (int device = 1; taken < ConnectionPlaces.ConnectionsMax; device++)
        {
            IPAddress address = IPAddress.Parse("192.0.2." + device);
            for (int i = 0; i < ConnectionPlaces.ConnectionsOfOneMax; i++, taken++) Assert.True(places.TryTake(address));
            Assert.False(places.TryTake(address));
        }

        Assert.False(places.TryTake(IPAddress.Parse("198.51.100.1")));
        places.GiveBack(IPAddress.Parse("192.0.2.1"));
        Assert.True(places.TryTake(IPAddress.Parse("198.51.100.1")));
    }

    [Theory]
    [InlineData("2001:db8:1:2::1", "2001:db8:1:2:ffff::9", true)] // RFC 4291, 2.5.1: the first 64 bits are the network
    [InlineData("2001:db8:1:2::1", "2001:db8:1:3::1", false)]
    [InlineData("192.0.2.1", "::ffff:192.0.2.1", true)]
    [InlineData("192.0.2.1", "192.0.2.2", false)]
    public void Who_counts_as_one(string a, string b, bool isOne) =>
        Assert.Equal(isOne, ConnectionPlaces.WhomOf(IPAddress.Parse(a)) == ConnectionPlaces.WhomOf(IPAddress.Parse(b)));
}
