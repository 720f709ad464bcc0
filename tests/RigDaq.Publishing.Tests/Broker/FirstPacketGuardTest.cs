using System.Buffers;
using System.Net;
using System.Net.Sockets;
using MQTTnet;
using MQTTnet.Protocol;
using RigDaq.Publishing.Broker;
using RigDaq.Publishing.Settings;
using RigDaq.Publishing.Tests.Support;

namespace RigDaq.Publishing.Tests.Broker;

public sealed class FirstPacketGuardTest
{
    private const int Most = 16 * 1024;

    [Theory]
    // The byte sequences of the length are those of MQTT 5.0, table 1-1 (OASIS standard), from memory.
    [InlineData(new byte[] { }, nameof(FirstPacketGuard.Verdict.Unfinished))]
    [InlineData(new byte[] { 0x10 }, nameof(FirstPacketGuard.Verdict.Unfinished))]
    [InlineData(new byte[] { 0x10, 0x80 }, nameof(FirstPacketGuard.Verdict.Unfinished))]
    [InlineData(new byte[] { 0x10, 0x02, 0x00 }, nameof(FirstPacketGuard.Verdict.Unfinished))]
    [InlineData(new byte[] { 0x10, 0x02, 0x00, 0x00 }, nameof(FirstPacketGuard.Verdict.Whole))]
    [InlineData(new byte[] { 0x10, 0xFF, 0xFF, 0xFF, 0x7F }, nameof(FirstPacketGuard.Verdict.Hostile))]
    [InlineData(new byte[] { 0x10, 0x80, 0x80, 0x80, 0x80, 0x01 }, nameof(FirstPacketGuard.Verdict.Hostile))]
    [InlineData(new byte[] { 0x10, 0x81, 0x80, 0x01 }, nameof(FirstPacketGuard.Verdict.Hostile))]
    [InlineData(new byte[] { 0x30, 0x02, 0x00, 0x00 }, nameof(FirstPacketGuard.Verdict.Hostile))]
    [InlineData(new byte[] { 0x47, 0x45, 0x54, 0x20 }, nameof(FirstPacketGuard.Verdict.Hostile))]
    public void A_first_packet_is_judged_by_its_head(byte[] bytes, string verdict) =>
        Assert.Equal(verdict, FirstPacketGuard.Judge(new ReadOnlySequence<byte>(bytes), Most).ToString());

    [Fact]
    public void FirstPacketBytesMax_bytes_are_waited_for_and_one_more_is_not()
    {
        int most = new EmbeddedBrokerOptions().FirstPacketBytesMax;
        Assert.Equal(FirstPacketGuard.Verdict.Unfinished, Judge(most));
        Assert.Equal(FirstPacketGuard.Verdict.Hostile, Judge(most + 1));

        // Its type, and three bytes of how much follows.
        FirstPacketGuard.Verdict Judge(int rest) =>
            FirstPacketGuard.Judge(new ReadOnlySequence<byte>([0x10, (byte)((rest & 0x7F) | 0x80), (byte)(((rest >> 7) & 0x7F) | 0x80),
                (byte)(rest >> 14)]), most);
    }

    [Fact]
    public async Task A_packet_that_claims_256_megabytes_is_refused_at_once_and_others_go_on()
    {
        await using BrokerHost host = await BrokerHost.StartAsync();
        await host.ConnectedAsync();
        long before = GC.GetTotalAllocatedBytes();
        using Socket hostile = Connect(host.Port);
        await hostile.SendAsync(new byte[] { 0x10, 0xFF, 0xFF, 0xFF, 0x7F, 0x00, 0x04 }, TestContext.Current.CancellationToken);

        await ClosesAsync(hostile);

        Assert.True(GC.GetTotalAllocatedBytes() - before < 64 * 1024 * 1024);
        Assert.Equal(1, host.Broker.RefusedConnections);
        await using Listener listener = await Listener.ConnectAsync(host.Port);
        Assert.True(listener.Client.IsConnected);
    }

    [Fact]
    public async Task A_client_that_says_nothing_is_refused_after_five_seconds()
    {
        await using BrokerHost host = await BrokerHost.StartAsync();
        using Socket silent = Connect(host.Port);
        // The socket is real, so the five seconds pass in wall time.
        var watch = System.Diagnostics.Stopwatch.StartNew();
        await ClosesAsync(silent);
        Assert.InRange(watch.Elapsed, FirstPacketGuard.FirstPacketTime - TimeSpan.FromSeconds(1), FirstPacketGuard.FirstPacketTime
            + TimeSpan.FromSeconds(7));
        Assert.Equal(1, host.Broker.RefusedConnections);
    }

    [Fact]
    public async Task After_the_log_in_a_great_packet_passes_and_a_greater_one_than_allowed_ends_its_own_connection_only()
    {
        await using BrokerHost host = await BrokerHost.StartAsync();
        await host.ConnectedAsync();
        await using Listener other = await Listener.ConnectAsync(host.Port);
        await using Listener client = await Listener.ConnectAsync(host.Port);
        byte[] great = new byte[EmbeddedBrokerOptions.PacketBytesMax - 100];
        await client.Client.PublishBinaryAsync("mine/great", great, MqttQualityOfServiceLevel.AtLeastOnce,
            cancellationToken: TestContext.Current.CancellationToken);
        Assert.True(client.Client.IsConnected);
        byte[] greater = new byte[EmbeddedBrokerOptions.PacketBytesMax];
        await Assert.ThrowsAnyAsync<Exception>(() => client.Client.PublishBinaryAsync(
            "mine/greater", greater, MqttQualityOfServiceLevel.AtLeastOnce, cancellationToken: TestContext.Current.CancellationToken));
        await Eventually.TrueAsync(() => !client.Client.IsConnected && host.Broker.RefusedConnections == 1, "ended");
        Assert.True(other.Client.IsConnected);
    }

    [Theory]
    // PINGREQ, then PUBLISH packets of 2 and of 128 bytes (MQTT 5.0, 2.1 and 1.5.5), cut anywhere.
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(200)]
    public void Lengths_are_followed_however_the_bytes_are_cut(int pieceBytes)
    {
        byte[] bytes = [0xC0, 0x00, 0x30, 0x02, 0xFF, 0xFF, 0x30, 0x80, 0x01, .. Enumerable.Repeat((byte)0xFF, 128), 0xC0, 0x00];
        var lengths = new PacketLengths(128);
        foreach (byte[] piece in bytes.Chunk(pieceBytes)) Assert.True(lengths.Take(piece));
        Assert.False(new PacketLengths(127).Take(bytes));
        Assert.False(lengths.Take([0x30, 0x80, 0x80, 0x80, 0x80]));
    }

    [Fact]
    public async Task More_clients_than_allowed_are_refused()
    {
        await using BrokerHost host = await BrokerHost.StartAsync(o => o.Broker.ClientsMax = 1);
        await host.ConnectedAsync();
        await using Listener first = await Listener.ConnectAsync(host.Port);
        using Socket second = Connect(host.Port);
        await ClosesAsync(second);
        Assert.True(first.Client.IsConnected);
    }

    private static Socket Connect(int port)
    {
        var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        socket.Connect(IPAddress.Loopback, port);
        return socket;
    }

    private static async Task ClosesAsync(Socket socket)
    {
        using var late = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        late.CancelAfter(TimeSpan.FromSeconds(15));
        try
        {
            Assert.Equal(0, await socket.ReceiveAsync(new byte[64], late.Token));
        }
        catch (SocketException)
        {
            // A reset ends it just as well.
        }
    }
}
