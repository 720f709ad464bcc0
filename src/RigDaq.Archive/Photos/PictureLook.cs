using System.Buffers.Binary;

namespace RigDaq.Archive.Photos;

/// <summary>
/// Whether bytes are a whole picture, as far as that can be told without decoding it: what makes up a picture is there, in order,
/// with its end. PNG: a signature, an IHDR chunk with a width and a height, data in IDAT, an IEND; each chunk's checksum is left to
/// whoever shows it (PNG third edition, 5). JPEG: SOI, segments with a frame header (SOFn) of a width and a height, a scan (SOS), an
/// EOI (ITU-T T.81, B.1 and B.2). What a camera adds after the end (a short film) is its own. From memory.
/// </summary>
internal static class PictureLook
{
    private const int ChunkExtra = 12; // Length, type, checksum.

    /// <summary>Whether it is a whole JPEG or PNG.</summary>
    public static bool IsWhole(ReadOnlySpan<byte> picture) =>
        picture.StartsWith<byte>([0xFF, 0xD8]) ? IsWholeJpeg(picture) : IsWholePng(picture);

    private static bool IsWholePng(ReadOnlySpan<byte> picture)
    {
        if (!picture.StartsWith<byte>([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A])) return false;
        bool hasSize = false, hasData = false;
        ReadOnlySpan<byte> rest = picture[8..];
        while (rest.Length >= ChunkExtra)
        {
            uint length = BinaryPrimitives.ReadUInt32BigEndian(rest);
            if (length > rest.Length - ChunkExtra) return false;
            ReadOnlySpan<byte> type = rest.Slice(4, 4), data = rest.Slice(8, (int)length);
            if (type.SequenceEqual("IHDR"u8))
                hasSize = length == 13 && BinaryPrimitives.ReadUInt32BigEndian(data) > 0
                    && BinaryPrimitives.ReadUInt32BigEndian(data[4..]) > 0;
            else if (!hasSize) return false;
            else if (type.SequenceEqual("IDAT"u8)) hasData |= length > 0;
            else if (type.SequenceEqual("IEND"u8)) return hasData;
            rest = rest[(ChunkExtra + (int)length)..];
        }

        return false;
    }

    private static bool IsWholeJpeg(ReadOnlySpan<byte> picture)
    {
        bool hasSize = false;
        for (int at = 2; at + 4 <= picture.Length;)
        {
            if (picture[at] != 0xFF) return false;
            byte marker = picture[at + 1];
            if (marker == 0xFF)
            {
                at++; // A fill byte.
                continue;
            }

            int length = BinaryPrimitives.ReadUInt16BigEndian(picture[(at + 2)..]);
            if (length < 2 || at + 2 + length > picture.Length) return false;
            // SOF0 to SOF15 without DHT (C4), JPG (C8) and DAC (CC): precision, height, width.
            if (marker is >= 0xC0 and <= 0xCF and not (0xC4 or 0xC8 or 0xCC))
            {
                // A height of 0 is said later, in a DNL segment.
                hasSize = length >= 8 && BinaryPrimitives.ReadUInt16BigEndian(picture[(at + 7)..]) > 0;
            }

            at += 2 + length;
            // In a scan FF is followed by 00 or a restart, or begins the next segment; the end comes after the last scan.
            if (marker == 0xDA) return hasSize && picture[at..].IndexOf<byte>([0xFF, 0xD9]) > 0;
        }

        return false;
    }
}
