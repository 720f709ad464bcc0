using System.Net.WebSockets;
using RigDaq.Tests.Shared;
using RigDaq.Web.Live;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>Pages without the key cannot keep the operator's own page away from the live socket.</summary>
public sealed class SocketPlacesTest
{
    [Fact]
    public async Task KeyedSocketsMax_pages_with_the_key_and_KeylessSocketsMax_without_it_are_let_in_and_not_one_more()
    {
        await using PageHost host = await PageHost.StartAsync();
        foreach (bool key in new[] { true, false })
        {
            int most = key ? LiveSocket.KeyedSocketsMax : LiveSocket.KeylessSocketsMax;
            var sockets = new List<ClientWebSocket>();
            for (int i = 0; i < most; i++) sockets.Add(Assert.IsType<ClientWebSocket>(await TryOpenAsync(host, key)));
            Assert.Null(await TryOpenAsync(host, key));
            foreach (ClientWebSocket socket in sockets) socket.Dispose();
        }
    }

    [Fact]
    public void ElsewhereSocketsMax_places_are_given_and_one_that_is_given_back_again()
    {
        var places = new SocketPlaces(LiveSocket.ElsewhereSocketsMax);
        for (int i = 0; i < LiveSocket.ElsewhereSocketsMax; i++) Assert.True(places.TryTake());
        Assert.False(places.TryTake());
        places.GiveBack();
        Assert.True(places.TryTake());
        Assert.False(places.TryTake());
    }

    [Fact]
    public async Task Places_for_who_has_the_key_are_kept_free()
    {
        await using PageHost host = await PageHost.StartAsync();
        var strangers = new List<ClientWebSocket>();
        int refused = 0;
        for (int i = 0; i < 40; i++)
        {
            if (await TryOpenAsync(host, key: false) is { } socket) strangers.Add(socket);
            else refused++;
        }

        Assert.Equal(16, strangers.Count);
        Assert.Equal(24, refused);
        using ClientWebSocket? own = await TryOpenAsync(host, key: true);
        Assert.NotNull(own);
        strangers[0].Dispose();
        // The place is given back when the server has noticed, in wall time.
        ClientWebSocket? next = null;
        for (int i = 0; i < 200 && next is null; i++)
        {
            next = await TryOpenAsync(host, key: false);
            // Wall time: the host gives a place back when the socket before has closed.
            if (next is null) await Task.Delay(20, TestContext.Current.CancellationToken);
        }

        Assert.NotNull(next);
        next.Dispose();
        foreach (ClientWebSocket socket in strangers) socket.Dispose();
    }

    private static async Task<ClientWebSocket?> TryOpenAsync(PageHost host, bool key)
    {
        var socket = new ClientWebSocket();
        socket.Options.SetRequestHeader("Origin", host.Url.GetLeftPart(UriPartial.Authority));
        if (key) socket.Options.SetRequestHeader("Cookie", $"rigdaq-{host.Url.Port}={host.KeyedUrl.Fragment.Split('=')[1]}");
        try
        {
            await socket.ConnectAsync(new UriBuilder(host.Url) { Scheme = "ws", Path = Addresses.Live }.Uri,
                TestContext.Current.CancellationToken);
            return socket;
        }
        catch (WebSocketException)
        {
            socket.Dispose();
            return null;
        }
    }
}
