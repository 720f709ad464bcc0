namespace RigDaq.Archive.Photos;

/// <summary>
/// Whether a photo carries what a camera writes besides the picture (Exif: moment, camera, often the place). In a JPEG that is the segment
/// APP1, FF E1, that begins with "Exif" and two zeros; in a PNG the chunk eXIf (Exif 2.3, 4.7.2; PNG third edition, 11.3.3.6; from memory).
/// </summary>
internal static class CameraData
{
    // Both stand near the start.
    private const int BytesLookedAt = 1 << 17;

    public static bool IsIn(string path)
    {
        using FileStream stream = File.OpenRead(path);
        byte[] start = new byte[(int)Math.Min(stream.Length, BytesLookedAt)];
        stream.ReadExactly(start);
        return start.AsSpan().IndexOf("Exif\0\0"u8) >= 0 || start.AsSpan().IndexOf("eXIf"u8) >= 0;
    }
}
