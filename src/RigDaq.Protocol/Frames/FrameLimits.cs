namespace RigDaq.Protocol.Frames;

/// <summary>The sizes that hold for every frame of the wire.</summary>
public static class FrameLimits
{
    /// <summary>The byte before and after every frame.</summary>
    public const byte Delimiter = 0x00;

    /// <summary>The greatest payload: one type byte and a body.</summary>
    public const int PayloadBytesMax = 238;

    /// <summary>The checksum behind the payload.</summary>
    public const int ChecksumBytes = 2;

    /// <summary>Payload and checksum, before stuffing.</summary>
    public const int ContentBytesMax = PayloadBytesMax + ChecksumBytes;

    /// <summary>After stuffing, without the delimiters; under 254 content bytes cost one byte of overhead.</summary>
    public const int EncodedBytesMax = ContentBytesMax + 1;

    /// <summary>A whole frame on the line, both delimiters counted.</summary>
    public const int WireBytesMax = EncodedBytesMax + 2;
}
