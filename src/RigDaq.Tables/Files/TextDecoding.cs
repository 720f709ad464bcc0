using System.Text;
using RigDaq.Tables.Readings;
using RigDaq.Tables.Text;

namespace RigDaq.Tables.Files;

/// <summary>Finds out how a text is encoded: by its byte order mark, by zero bytes in every other place (UTF-16), by being valid UTF-8;
/// else it is GBK where its high bytes come in pairs, else Windows-1252, which has Latin-1 in it.</summary>
internal static class TextDecoding
{
    private const int GbkCodePage = 936;
    private const int WesternCodePage = 1252;
    private const int Latin1CodePage = 28591;

    // So much is looked at where a guess is needed.
    private const int LookedAt = 1 << 16;

    // Below this share of zero bytes in their places a text is no UTF-16.
    private const double ZeroShareMin = 0.3;

    private static readonly UTF8Encoding Utf8 = new(false, throwOnInvalidBytes: true);
    private static readonly UnicodeEncoding Utf16 = new(bigEndian: false, byteOrderMark: false, throwOnInvalidBytes: true);
    private static readonly UnicodeEncoding Utf16BigEndian = new(bigEndian: true, byteOrderMark: false, throwOnInvalidBytes: true);

    /// <summary>The names that <see cref="ReadingOptions.Encoding"/> takes.</summary>
    public static IReadOnlyList<string> Names { get; } = ["utf-8", "utf-16", "utf-16be", "windows-1252", "latin-1", "gbk"];

    /// <summary>The text and the name of its encoding.</summary>
    /// <param name="bytes">The file.</param>
    /// <param name="wanted">What a person says; null to find out.</param>
    /// <exception cref="TableRefusedException">It is no text, or not in the encoding that was said.</exception>
    public static (string Text, string Name) Decode(ReadOnlySpan<byte> bytes, string? wanted)
    {
        if (wanted is not null)
        {
            string name = wanted.ToLowerInvariant();
            Encoding encoding = Of(name) ?? throw new TableRefusedException(TablesText.EncodingNotKnown(wanted, Names));
            return (Strip(Strictly(bytes, encoding, name)), name);
        }

        if (bytes.StartsWith(Encoding.UTF8.Preamble)) return (Strictly(bytes[3..], Utf8, Names[0]), Names[0]);
        if (bytes.StartsWith(Encoding.Unicode.Preamble)) return (Strictly(Even(bytes[2..]), Utf16, Names[1]), Names[1]);
        if (bytes.StartsWith(Encoding.BigEndianUnicode.Preamble)) return (Strictly(Even(bytes[2..]), Utf16BigEndian, Names[2]), Names[2]);
        if (bytes.Contains((byte)0))
        {
            (double even, double odd) = ZeroShares(bytes);
            if (odd > ZeroShareMin && even < ZeroShareMin / 10) return (Strictly(Even(bytes), Utf16, Names[1]), Names[1]);
            if (even > ZeroShareMin && odd < ZeroShareMin / 10) return (Strictly(Even(bytes), Utf16BigEndian, Names[2]), Names[2]);
            throw new TableRefusedException(TablesText.KindBinary);
        }

        try
        {
            return (Utf8.GetString(bytes), Names[0]);
        }
        catch (DecoderFallbackException)
        {
            string name = InPairs(bytes) ? Names[5] : Names[3];
            return (Strictly(bytes, Of(name)!, name), name);
        }
    }

    private static string Strictly(ReadOnlySpan<byte> bytes, Encoding encoding, string name)
    {
        try
        {
            return encoding.GetString(bytes);
        }
        catch (DecoderFallbackException)
        {
            throw new TableRefusedException(TablesText.EncodingWrong(name));
        }
    }

    private static string Strip(string text) => text.Length > 0 && text[0] == '\uFEFF' ? text[1..] : text;

    // A half character at the end is what a power cut leaves.
    private static ReadOnlySpan<byte> Even(ReadOnlySpan<byte> bytes) => bytes[..(bytes.Length & ~1)];

    private static Encoding? Of(string name) => Names.IndexOf(name) switch
    {
        0 => Utf8,
        1 => Utf16,
        2 => Utf16BigEndian,
        3 => Page(WesternCodePage),
        4 => Page(Latin1CodePage),
        5 => Page(GbkCodePage),
        _ => null,
    };

    private static Encoding Page(int codePage) =>
        (CodePagesEncodingProvider.Instance.GetEncoding(codePage, EncoderFallback.ExceptionFallback, DecoderFallback.ExceptionFallback)
        ?? Encoding.GetEncoding(codePage, EncoderFallback.ExceptionFallback, DecoderFallback.ExceptionFallback))!;

    private static (double Even, double Odd) ZeroShares(ReadOnlySpan<byte> bytes)
    {
        int length = Math.Min(bytes.Length, LookedAt) & ~1;
        int even = 0, odd = 0;
        for (int i = 0; i < length; i += 2)
        {
            if (bytes[i] == 0) even++;
            if (bytes[i + 1] == 0) odd++;
        }

        return length == 0 ? (0, 0) : (2.0 * even / length, 2.0 * odd / length);
    }

    // The common characters of GBK are two high bytes; letters with accents stand alone between plain ones.
    private static bool InPairs(ReadOnlySpan<byte> bytes)
    {
        int pairs = 0, odd = 0;
        for (int i = 0; i < bytes.Length; i++)
        {
            if (bytes[i] < 0x80) continue;
            int run = 1;
            while (i + run < bytes.Length && bytes[i + run] >= 0x80) run++;
            if (run % 2 == 0) pairs += run / 2;
            else odd++;
            i += run;
        }

        return pairs > odd;
    }

    private static int IndexOf(this IReadOnlyList<string> names, string name)
    {
        for (int i = 0; i < names.Count; i++)
        {
            if (names[i] == name) return i;
        }

        return -1;
    }
}
