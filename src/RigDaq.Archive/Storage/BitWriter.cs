using System.Buffers.Binary;

namespace RigDaq.Archive.Storage;

/// <summary>Writes single bits into bytes, the lowest bit of each byte first.</summary>
internal sealed class BitWriter
{
    private byte[] _bytes;
    private int _at;
    private ulong _waiting;
    private int _waitingBits;

    /// <param name="expectedBytes">Room to begin with; it grows.</param>
    public BitWriter(int expectedBytes) => _bytes = new byte[expectedBytes + sizeof(ulong)];

    /// <summary>The lowest bits of a value.</summary>
    /// <param name="value">Nothing above those bits may be set.</param>
    /// <param name="bits">0 to 56.</param>
    public void Write(ulong value, int bits)
    {
        _waiting |= value << _waitingBits;
        _waitingBits += bits;
        if (_at + sizeof(ulong) > _bytes.Length) Array.Resize(ref _bytes, 2 * _bytes.Length);
        BinaryPrimitives.WriteUInt64LittleEndian(_bytes.AsSpan(_at), _waiting);
        int whole = _waitingBits >> 3;
        _at += whole;
        _waiting = whole == sizeof(ulong) ? 0 : _waiting >> (8 * whole);
        _waitingBits &= 7;
    }

    /// <summary>All that was written; the last byte is filled up with zeros.</summary>
    public byte[] ToArray() => _bytes.AsSpan(0, _at + (_waitingBits > 0 ? 1 : 0)).ToArray();
}
