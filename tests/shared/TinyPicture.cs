namespace RigDaq.Tests.Shared;

/// <summary>Pictures that have all that makes one up and nothing to look at.</summary>
internal static class TinyPicture
{
    /// <summary>A JPEG of one grey point: start, frame header, scan, end (ITU-T T.81, B.2; from memory).</summary>
    /// <param name="mark">A byte of its scan, to tell one from another.</param>
    public static byte[] Jpeg(byte mark = 1) =>
    [
        0xFF, 0xD8,
        0xFF, 0xC0, 0, 11, 8, 0, 1, 0, 1, 1, 1, 0x11, 0,
        0xFF, 0xDA, 0, 8, 1, 1, 0, 0, 63, 0, mark,
        0xFF, 0xD9,
    ];
}
