using RigDaq.Tables.Text;
using RigDaq.Text;

namespace RigDaq.Tables.Files;

/// <summary>What a file is by its first bytes, whatever its name says.</summary>
internal static class FileKind
{
    private static ReadOnlySpan<byte> Zip => "PK\u0003\u0004"u8;

    private static ReadOnlySpan<byte> Compound => [0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1];

    private static ReadOnlySpan<byte> Gzip => [0x1F, 0x8B];

    private static ReadOnlySpan<byte> Pdf => "%PDF"u8;

    /// <summary>Whether it is a packed workbook (.xlsx), or something else that is packed.</summary>
    public static bool IsZip(ReadOnlySpan<byte> bytes) => bytes.StartsWith(Zip);

    /// <summary>Whether it is an old workbook (.xls), or one with a password.</summary>
    public static bool IsCompound(ReadOnlySpan<byte> bytes) => bytes.StartsWith(Compound);

    /// <summary>Why it is no table, for kinds that are known and not read; null where nothing speaks against it.</summary>
    public static Sentence? Refusal(ReadOnlySpan<byte> bytes)
    {
        if (bytes.StartsWith(Gzip)) return TablesText.KindPacked;
        return bytes.StartsWith(Pdf) ? TablesText.KindPdf : null;
    }
}
