using System.Buffers.Binary;
using System.Text;
using RigDaq.Archive.Storage;

namespace RigDaq.Archive.Captures;

/// <summary>
/// A capture is eight bytes that name it and then records, each whole in itself: a mark to find it by after damage, its
/// kind, its length, a checksum, its content. A head comes first, blocks of samples follow, a trailer ends it.
/// </summary>
internal static class CaptureFormat
{
    public const string Extension = ".capture";

    /// <summary>Kind, length and checksum before the content.</summary>
    public const int RecordHeadBytes = 4 + 1 + 4 + 4;

    /// <summary>No content is longer: what says so is damaged.</summary>
    public const int LongestContentBytes = 64 * 1024 * 1024;

    public const byte HeadKind = (byte)'H';
    public const byte BlockKind = (byte)'B';
    public const byte ChannelKind = (byte)'C';
    public const byte TrailerKind = (byte)'E';

    /// <summary>Samples or values of a channel as packed columns, in the capture of a run that was stored.</summary>
    public const byte PackedKind = (byte)'P';

    /// <summary>The same texts as head and trailer hold, packed by Brotli (RFC 7932), likewise.</summary>
    public const byte PackedHeadKind = (byte)'h';

    /// <inheritdoc cref="PackedHeadKind"/>
    public const byte PackedTrailerKind = (byte)'e';

    /// <summary>What a file starts with; the last digit is the version.</summary>
    public static ReadOnlySpan<byte> Name => "RIGCAP\n1"u8;

    /// <summary>What a record starts with; neither text nor columns are likely to hold it.</summary>
    public static ReadOnlySpan<byte> Mark => [0xF7, 0x0A, 0xC3, 0x91];

    /// <summary>One record, ready to be written in one go.</summary>
    public static byte[] Record(byte kind, ReadOnlySpan<byte> content)
    {
        byte[] record = new byte[RecordHeadBytes + content.Length];
        Mark.CopyTo(record);
        record[4] = kind;
        BinaryPrimitives.WriteInt32LittleEndian(record.AsSpan(5), content.Length);
        content.CopyTo(record.AsSpan(RecordHeadBytes));
        BinaryPrimitives.WriteUInt32LittleEndian(record.AsSpan(9), Checksum.Of(record.AsSpan(4, 5), content));
        return record;
    }

    /// <summary>One record that holds text.</summary>
    public static byte[] TextRecord<T>(byte kind, T content) => Record(kind, Encoding.UTF8.GetBytes(RecordText.Of(content)));

    /// <summary>Whether a whole record starts here.</summary>
    public static bool TryRead(ReadOnlySpan<byte> bytes, out byte kind, out ReadOnlySpan<byte> content)
    {
        kind = 0;
        content = default;
        if (bytes.Length < RecordHeadBytes || !bytes.StartsWith(Mark)) return false;
        int length = BinaryPrimitives.ReadInt32LittleEndian(bytes[5..]);
        if (length is < 0 or > LongestContentBytes || bytes.Length - RecordHeadBytes < length) return false;
        ReadOnlySpan<byte> body = bytes.Slice(RecordHeadBytes, length);
        if (Checksum.Of(bytes.Slice(4, 5), body) != BinaryPrimitives.ReadUInt32LittleEndian(bytes[9..])) return false;
        kind = bytes[4];
        content = body;
        return true;
    }
}
