using RigDaq.Publishing.Broker;

namespace RigDaq.Publishing.Tests.Broker;

public sealed class GuestNamesTest
{
    // A CONNECT packet of MQTT 3.1.1 laid out by hand after 3.1 of the OASIS standard, from memory: clean session, keep-alive 60 s, no id.
    private static readonly byte[] Nameless = [0x10, 0x0C, 0, 4, (byte)'M', (byte)'Q', (byte)'T', (byte)'T', 4, 2, 0, 60, 0, 0];

    [Fact]
    public void A_client_without_an_id_gets_one() => Assert.Equal(
        [0x10, 0x0E, 0, 4, (byte)'M', (byte)'Q', (byte)'T', (byte)'T', 4, 2, 0, 60, 0, 2, (byte)'g', (byte)'1'],
        GuestNames.Fill(Nameless, "g1"));

    [Fact]
    public void The_length_grows_into_a_second_byte_where_it_must()
    {
        byte[] user = new byte[120];
        byte[] packet = [0x10, 132 - 128 + 0x80, 1, .. Nameless[2..], .. user];
        byte[] filled = GuestNames.Fill(packet, "g1")!;
        Assert.Equal([0x10, (134 & 0x7F) | 0x80, 1], filled[..3]);
        Assert.Equal(134 + 3, filled.Length);
    }

    [Theory]
    [InlineData(8, 5)] // Version 5: the library does it itself.
    [InlineData(9, 0)] // Without a clean session the standard wants an id.
    [InlineData(13, 1)] // It has one (of a length that is a lie, which the broker will find).
    public void Any_other_packet_is_left_alone(int at, byte value)
    {
        byte[] packet = [.. Nameless];
        packet[at] = value;
        Assert.Null(GuestNames.Fill(packet, "g1"));
    }
}
