using System.Buffers.Binary;
using System.Text;

namespace RigDaq.Protocol.Messages;

/// <summary>Reads little-endian fields one after another. A field beyond the end reads as zero and makes <see cref="Whole"/> false, so that
/// a message is checked once, at its end.</summary>
internal ref struct PayloadReader
{
    private ReadOnlySpan<byte> _rest;

    public PayloadReader(ReadOnlySpan<byte> payload, MessageType type)
    {
        _rest = payload;
        Whole = true;
        if (U8() != (byte)type) Whole = false;
    }

    public bool Whole { get; private set; }

    /// <summary>How many bytes are left: a field of a later minor version is there or is not.</summary>
    public readonly int Left => _rest.Length;

    public byte U8() => Take(1, out ReadOnlySpan<byte> b) ? b[0] : (byte)0;

    public ushort U16() => Take(2, out ReadOnlySpan<byte> b) ? BinaryPrimitives.ReadUInt16LittleEndian(b) : (ushort)0;

    public short I16() => Take(2, out ReadOnlySpan<byte> b) ? BinaryPrimitives.ReadInt16LittleEndian(b) : (short)0;

    public uint U32() => Take(4, out ReadOnlySpan<byte> b) ? BinaryPrimitives.ReadUInt32LittleEndian(b) : 0;

    public int I32() => Take(4, out ReadOnlySpan<byte> b) ? BinaryPrimitives.ReadInt32LittleEndian(b) : 0;

    public ulong U64() => Take(8, out ReadOnlySpan<byte> b) ? BinaryPrimitives.ReadUInt64LittleEndian(b) : 0;

    public int I24() => Take(3, out ReadOnlySpan<byte> b) ? b[0] | (b[1] << 8) | ((sbyte)b[2] << 16) : 0;

    public string Text() => Take(U8(), out ReadOnlySpan<byte> b) ? Encoding.UTF8.GetString(b) : "";

    private bool Take(int count, out ReadOnlySpan<byte> bytes)
    {
        if (_rest.Length < count)
        {
            Whole = false;
            _rest = [];
            bytes = [];
            return false;
        }

        bytes = _rest[..count];
        _rest = _rest[count..];
        return true;
    }
}
