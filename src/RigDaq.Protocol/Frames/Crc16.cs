namespace RigDaq.Protocol.Frames;

/// <summary>
/// CRC-16/IBM-3740: polynomial 0x1021, start 0xFFFF, neither input nor output reflected, no final inversion.
/// It closes every frame of the wire.
/// </summary>
/// <remarks>Check value: the nine bytes "123456789" give 0x29B1 (catalogue of parametrised CRC algorithms).</remarks>
public static class Crc16
{
    private const ushort Start = 0xFFFF;
    private const ushort Polynomial = 0x1021;
    private static readonly ushort[] Table = MakeTable();

    /// <summary>Computes the checksum of <paramref name="bytes"/>.</summary>
    public static ushort Compute(ReadOnlySpan<byte> bytes)
    {
        ushort crc = Start;
        foreach (byte b in bytes) crc = (ushort)((crc << 8) ^ Table[(crc >> 8) ^ b]);
        return crc;
    }

    private static ushort[] MakeTable()
    {
        var table = new ushort[256];
        for (int i = 0; i < table.Length; i++)
        {
            var crc = (ushort)(i << 8);
            for (int bit = 0; bit < 8; bit++) crc = (ushort)((crc & 0x8000) != 0 ? (crc << 1) ^ Polynomial : crc << 1);
            table[i] = crc;
        }

        return table;
    }
}
