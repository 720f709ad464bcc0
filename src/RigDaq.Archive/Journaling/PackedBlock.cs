using System.IO.Compression;
using System.Text.Json;
using System.Text.Json.Serialization;
using RigDaq.Archive.Storage;

namespace RigDaq.Archive.Journaling;

/// <summary>A stretch of the journal, its very lines, packed; no entries that were kept together are parted by its ends.</summary>
/// <param name="First">The number of the first entry in it.</param>
/// <param name="Last">The number of the last entry in it.</param>
/// <param name="Brotli">The lines (RFC 7932).</param>
internal sealed record PackedBlock(long First, long Last, byte[] Brotli)
{
    private const string Name = "block";

    /// <summary>The number of its line, from 1 where the reading began.</summary>
    [JsonIgnore]
    public int Line { get; init; }

    public static PackedBlock Of(long first, long last, byte[] lines)
    {
        using var packed = new MemoryStream();
        using (var brotli = new BrotliStream(packed, CompressionLevel.Optimal)) brotli.Write(lines);
        return new PackedBlock(first, last, packed.ToArray());
    }

    /// <summary>The block of a line; null where it is not as it was written.</summary>
    public static PackedBlock? Parse(ReadOnlySpan<byte> line)
    {
        if (!CheckedLine.TryRead(line, Name, out ReadOnlySpan<byte> text)) return null;
        try
        {
            return JsonSerializer.Deserialize<PackedBlock>(text, RecordText.Options);
        }
        catch (JsonException)
        {
            return null;
        }
    }

    /// <summary>The block as it is written, with its line's end.</summary>
    public byte[] ToLine() => CheckedLine.Of(Name, JsonSerializer.SerializeToUtf8Bytes(this, RecordText.Options));

    public byte[] Unpack()
    {
        using var lines = new MemoryStream();
        using (var brotli = new BrotliStream(new MemoryStream(Brotli), CompressionMode.Decompress)) brotli.CopyTo(lines);
        return lines.ToArray();
    }
}
