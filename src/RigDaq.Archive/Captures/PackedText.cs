using System.IO.Compression;
using System.Text;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;

namespace RigDaq.Archive.Captures;

/// <summary>A record's text, packed by Brotli (RFC 7932).</summary>
internal static class PackedText
{
    /// <summary>No text is longer: what unpacks to more is damaged, or was made to fill the memory.</summary>
    public const int LongestBytes = 16 * 1024 * 1024;

    private const int Quality = 5;
    private const int Window = 18;

    public static byte[] Of<T>(T record)
    {
        byte[] text = Encoding.UTF8.GetBytes(RecordText.Of(record)), packed = new byte[BrotliEncoder.GetMaxCompressedLength(text.Length)];
        return BrotliEncoder.TryCompress(text, packed, out int written, Quality, Window) ? packed[..written]
            : throw new InvalidOperationException("Brotli needs more room than it says that it can need.");
    }

    /// <exception cref="InvalidDataException">It is no such text.</exception>
    public static string Read(ReadOnlySpan<byte> packed)
    {
        using var text = new MemoryStream();
        using var brotli = new BrotliStream(new MemoryStream(packed.ToArray()), CompressionMode.Decompress);
        byte[] some = new byte[8192];
        try
        {
            for (int read; (read = brotli.Read(some)) > 0;)
            {
                if (text.Length + read > LongestBytes) throw new InvalidDataException(ArchiveText.SamplesNotUnpacked);
                text.Write(some, 0, read);
            }
        }
        catch (InvalidOperationException e)
        {
            throw new InvalidDataException(ArchiveText.SamplesNotUnpacked, e);
        }

        return Encoding.UTF8.GetString(text.GetBuffer(), 0, (int)text.Length);
    }
}
