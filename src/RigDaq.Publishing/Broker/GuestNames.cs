using System.Buffers;
using System.Buffers.Binary;
using System.Text;

namespace RigDaq.Publishing.Broker;

/// <summary>Names clients that leave their id to the broker. MQTT 3.1.1 (3.1.3.1) allows that with a clean session and most command-line
/// clients do so, but the broker's library takes it from version 5 clients only.</summary>
internal static class GuestNames
{
    private const byte Version311 = 4;
    private const byte CleanSession = 0x02;
    private const int ProtocolNameBytes = 6; // Length and "MQTT".
    private const int ClientIdOffset = ProtocolNameBytes + 4; // Then level, flags and two bytes of keep-alive.

    /// <summary>The packet with a name put in; null where it needs none.</summary>
    /// <param name="packet">A whole CONNECT packet.</param>
    /// <param name="name">ASCII, at most 64 characters.</param>
    internal static byte[]? Fill(ReadOnlySpan<byte> packet, string name)
    {
        int head = 1;
        while ((packet[head] & 0x80) != 0) head++;
        ReadOnlySpan<byte> body = packet[(head + 1)..];
        bool guest = body.Length >= ClientIdOffset + 2
            && body[..ProtocolNameBytes].SequenceEqual("\0\u0004MQTT"u8)
            && body[ProtocolNameBytes] == Version311
            && (body[ProtocolNameBytes + 1] & CleanSession) != 0
            && BinaryPrimitives.ReadUInt16BigEndian(body[ClientIdOffset..]) == 0;
        if (!guest) return null;

        var filled = new ArrayBufferWriter<byte>(packet.Length + name.Length + 1);
        filled.Write(packet[..1]);
        int length = body.Length + name.Length;
        do
        {
            filled.Write<byte>([(byte)((length & 0x7F) | (length > 0x7F ? 0x80 : 0))]);
            length >>= 7;
        }
        while (length > 0);
        filled.Write(body[..ClientIdOffset]);
        filled.Write<byte>([0, (byte)name.Length]);
        filled.Write(Encoding.ASCII.GetBytes(name));
        filled.Write(body[(ClientIdOffset + 2)..]);
        return filled.WrittenSpan.ToArray();
    }
}
