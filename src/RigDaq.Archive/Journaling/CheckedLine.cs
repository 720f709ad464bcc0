using System.Globalization;
using System.Text;
using RigDaq.Archive.Storage;

namespace RigDaq.Archive.Journaling;

/// <summary>A line with the checksum of what it holds, as it stands: <c>{"crc32c":"01234567","NAME":...}</c>.</summary>
internal static class CheckedLine
{
    /// <summary>What each begins with. Quotation marks within a text are escaped: it stands nowhere else.</summary>
    public const string Begin = "{\"crc32c\":\"";

    /// <inheritdoc cref="Begin"/>
    public static ReadOnlySpan<byte> BeginBytes => "{\"crc32c\":\""u8;

    private const int ChecksumDigits = 8;

    /// <summary>The line with its end.</summary>
    /// <param name="name">What it holds.</param>
    /// <param name="text">That, as a JSON object.</param>
    public static byte[] Of(string name, byte[] text) =>
        [.. Encoding.ASCII.GetBytes(Begin + Checksum.Text(Checksum.Of(text)) + Between(name)), .. text, .. "}\n"u8];

    /// <summary>The text in a line, without the line's end.</summary>
    /// <returns>Whether it is as it was written.</returns>
    public static bool TryRead(ReadOnlySpan<byte> line, string name, out ReadOnlySpan<byte> text)
    {
        byte[] between = Encoding.ASCII.GetBytes(Between(name));
        int start = Begin.Length + ChecksumDigits + between.Length;
        text = default;
        if (line.Length <= start || line[^1] != '}' || !line.StartsWith(BeginBytes)
            || !line[(Begin.Length + ChecksumDigits)..].StartsWith(between)) return false;
        text = line[start..^1];
        ReadOnlySpan<byte> digits = line.Slice(Begin.Length, ChecksumDigits);
        return uint.TryParse(digits, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out uint checksum)
            && checksum == Checksum.Of(text);
    }

    private static string Between(string name) => $"\",\"{name}\":";
}
