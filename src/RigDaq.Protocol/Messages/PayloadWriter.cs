using System.Diagnostics.CodeAnalysis;
using System.Text;

namespace RigDaq.Protocol.Messages;

/// <summary>Writes little-endian fields one after another; the layout of a message is the order of the calls.</summary>
internal ref struct PayloadWriter
{
    private readonly Span<byte> _bytes;

    public PayloadWriter(Span<byte> bytes, MessageType type)
    {
        _bytes = bytes;
        U8((byte)type);
    }

    public int Length { get; private set; }

    [UnscopedRef]
    public ref PayloadWriter U8(byte value) => ref Put(value, 1);

    [UnscopedRef]
    public ref PayloadWriter U16(ushort value) => ref Put(value, 2);

    [UnscopedRef]
    public ref PayloadWriter I16(short value) => ref Put((ulong)value, 2);

    [UnscopedRef]
    public ref PayloadWriter I24(int value) => ref Put((ulong)value, 3);

    [UnscopedRef]
    public ref PayloadWriter U32(uint value) => ref Put(value, 4);

    [UnscopedRef]
    public ref PayloadWriter I32(int value) => ref Put((ulong)value, 4);

    [UnscopedRef]
    public ref PayloadWriter U64(ulong value) => ref Put(value, 8);

    /// <summary>One length byte and UTF-8, cut at a whole character where it is too long.</summary>
    [UnscopedRef]
    public ref PayloadWriter Text(string text, int bytesMax)
    {
        while (Encoding.UTF8.GetByteCount(text) > bytesMax) text = text[..^(char.IsLowSurrogate(text[^1]) ? 2 : 1)];
        U8((byte)Encoding.UTF8.GetByteCount(text));
        Length += Encoding.UTF8.GetBytes(text, _bytes[Length..]);
        return ref this;
    }

    [UnscopedRef]
    private ref PayloadWriter Put(ulong value, int bytes)
    {
        for (int i = 0; i < bytes; i++) _bytes[Length++] = (byte)(value >> (8 * i));
        return ref this;
    }
}
