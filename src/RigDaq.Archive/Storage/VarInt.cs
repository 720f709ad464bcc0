using RigDaq.Archive.Text;

namespace RigDaq.Archive.Storage;

/// <summary>Integers in seven bits a byte, the lowest first, the top bit set on all but the last; signed ones zigzag.</summary>
internal static class VarInt
{
    public static void Write(Span<byte> bytes, ref int at, ulong value)
    {
        while (value >= 0x80)
        {
            bytes[at++] = (byte)(value | 0x80);
            value >>= 7;
        }

        bytes[at++] = (byte)value;
    }

    public static void WriteSigned(Span<byte> bytes, ref int at, long value) =>
        Write(bytes, ref at, (ulong)((value << 1) ^ (value >> 63)));

    /// <exception cref="InvalidDataException">It does not end within the data or within 64 bits.</exception>
    public static ulong Read(ReadOnlySpan<byte> bytes, ref int at)
    {
        ulong value = 0;
        for (int shift = 0; shift < 64; shift += 7)
        {
            if (at >= bytes.Length) throw new InvalidDataException(ArchiveText.IntegerTooShort);
            byte one = bytes[at++];
            value |= (ulong)(one & 0x7F) << shift;
            if (one < 0x80) return value;
        }

        throw new InvalidDataException(ArchiveText.IntegerTooLong);
    }

    /// <exception cref="InvalidDataException">As <see cref="Read"/>.</exception>
    public static long ReadSigned(ReadOnlySpan<byte> bytes, ref int at)
    {
        ulong value = Read(bytes, ref at);
        return (long)(value >> 1) ^ -(long)(value & 1);
    }
}
