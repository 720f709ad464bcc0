using System.Globalization;
using System.Numerics;
using System.Runtime.InteropServices;

namespace RigDaq.Archive.Storage;

/// <summary>
/// CRC-32C (Castagnoli), as in RFC 3720: what tells a flipped bit in a record from the record. The processor has an
/// instruction for it.
/// </summary>
internal static class Checksum
{
    /// <summary>The checksum of <paramref name="data"/>; 0xE3069283 for the nine digits "123456789".</summary>
    public static uint Of(ReadOnlySpan<byte> data) => ~Continue(uint.MaxValue, data);

    /// <summary>The checksum of two stretches as if they were one.</summary>
    public static uint Of(ReadOnlySpan<byte> first, ReadOnlySpan<byte> second) => ~Continue(Continue(uint.MaxValue, first), second);

    /// <summary>Eight lower-case hexadecimal digits.</summary>
    public static string Text(uint checksum) => checksum.ToString("x8", CultureInfo.InvariantCulture);

    private static uint Continue(uint crc, ReadOnlySpan<byte> data)
    {
        int whole = data.Length & ~7;
        if (BitConverter.IsLittleEndian)
        {
            foreach (ulong word in MemoryMarshal.Cast<byte, ulong>(data[..whole])) crc = BitOperations.Crc32C(crc, word);
            data = data[whole..];
        }

        foreach (byte one in data) crc = BitOperations.Crc32C(crc, one);
        return crc;
    }
}
