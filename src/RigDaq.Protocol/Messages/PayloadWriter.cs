using System.Buffers.Binary;
using System.Text;

namespace RigDaq.Protocol.Messages;

/// <summary>Writes little-endian fields one after another; the layout of a message is the order of the calls.</summary>
internal ref struct PayloadWriter
{
    private readonly Span<byte> _bytes;

    public PayloadWriter(Span<byte> bytes, MessageType type)
    {
        _bytes = bytes;
        Length = 0;
        U8((byte)type);
    }

    public int Length { get; private set; }

    public void U8(byte value) => Take(1)[0] = value;

    public void U16(ushort value) => BinaryPrimitives.WriteUInt16LittleEndian(Take(2), value);

    public void I16(short value) => BinaryPrimitives.WriteInt16LittleEndian(Take(2), value);

    public void U32(uint value) => BinaryPrimitives.WriteUInt32LittleEndian(Take(4), value);

    public void I32(int value) => BinaryPrimitives.WriteInt32LittleEndian(Take(4), value);

    public void U64(ulong value) => BinaryPrimitives.WriteUInt64LittleEndian(Take(8), value);

    public void I24(int value)
    {
        Span<byte> b = Take(3);
        b[0] = (byte)value;
        b[1] = (byte)(value >> 8);
        b[2] = (byte)(value >> 16);
    }

    /// <summary>One length byte and UTF-8, cut at a whole character where it is too long.</summary>
    public void Text(string text, int bytesMax)
    {
        while (Encoding.UTF8.GetByteCount(text) > bytesMax) text = text[..^(char.IsLowSurrogate(text[^1]) ? 2 : 1)];
        var length = (byte)Encoding.UTF8.GetByteCount(text);
        U8(length);
        Encoding.UTF8.GetBytes(text, Take(length));
    }

    private Span<byte> Take(int count)
    {
        Span<byte> taken = _bytes.Slice(Length, count);
        Length += count;
        return taken;
    }
}
