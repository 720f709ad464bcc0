namespace RigDaq.Publishing.Broker;

/// <summary>Follows a client's bytes from packet to packet and tells where one claims to be longer than allowed. Nothing is kept.</summary>
internal struct PacketLengths(int packetBytesMax)
{
    private const int LengthBytesMax = 4;
    private long _rest;
    private long _length;
    private int _headBytes;

    /// <summary>Takes the next bytes; false where a packet is too long or its length is none.</summary>
    public bool Take(ReadOnlySpan<byte> bytes)
    {
        while (!bytes.IsEmpty)
        {
            if (_rest > 0)
            {
                int skipped = (int)Math.Min(_rest, bytes.Length);
                _rest -= skipped;
                bytes = bytes[skipped..];
                continue;
            }

            byte part = bytes[0];
            bytes = bytes[1..];
            if (_headBytes++ == 0)
            {
                _length = 0;
                continue;
            }

            // MQTT 5.0, 1.5.5: a variable byte integer holds seven bits a byte, the least first, in at most four bytes.
            _length |= (long)(part & 0x7F) << (7 * (_headBytes - 2));
            bool more = (part & 0x80) != 0;
            if (_length > packetBytesMax || (more && _headBytes > LengthBytesMax)) return false;
            if (more) continue;
            _rest = _length;
            _headBytes = 0;
        }

        return true;
    }
}
