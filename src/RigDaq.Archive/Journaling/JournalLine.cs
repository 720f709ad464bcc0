using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace RigDaq.Archive.Journaling;

/// <summary>What a line of the journal is.</summary>
internal enum LineState
{
    /// <summary>An entry as it was written.</summary>
    Whole,

    /// <summary>The beginning of an entry whose write failed: nobody was ever told that it is kept.</summary>
    CutOff,

    /// <summary>An entry that is not as it was written.</summary>
    Damaged,
}

/// <summary>A line of the journal: one JSON object with the checksum of its entry, <c>{"crc32c":"01234567","entry":...}</c>.</summary>
/// <param name="Number">Its number in the file, from 1 where the reading began.</param>
/// <param name="State">What it is.</param>
/// <param name="Entry">The entry; null where it cannot be read.</param>
/// <param name="About">The kind and id that a damaged line seems to name; empty where it names none.</param>
internal sealed partial record JournalLine(int Number, LineState State, JournalEntry? Entry, string About)
{
    private const string Name = "entry", End = "}}";

    /// <summary>Whether it comes from the packed part.</summary>
    public bool IsPacked { get; init; }

    /// <summary>An entry as it is written, with the end of its line.</summary>
    public static byte[] Of(JournalEntry entry) => CheckedLine.Of(Name, entry.ToUtf8());

    /// <summary>The lines of a journal from a place on, in order. A line end that was damaged joins two lines: both are read.</summary>
    /// <param name="path">The file.</param>
    /// <param name="from">Where a line begins.</param>
    public static IEnumerable<JournalLine> Read(string path, long from)
    {
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        file.Position = Math.Min(from, file.Length);
        using var reader = new StreamReader(file, Encoding.UTF8);
        foreach (JournalLine line in Read(reader)) yield return line;
    }

    /// <inheritdoc cref="Read(string, long)"/>
    public static IEnumerable<JournalLine> Read(TextReader reader)
    {
        for (int number = 1; reader.ReadLine() is { } line; number++)
        {
            if (line.Length == 0) continue;
            if (Parse(line) is { } entry)
            {
                yield return new JournalLine(number, LineState.Whole, entry, "");
                continue;
            }

            bool saved = false;
            foreach (JournalEntry found in Joined(line))
            {
                saved = true;
                yield return new JournalLine(number, LineState.Whole, found, "");
            }

            bool cutOff = !saved && !line.EndsWith(End, StringComparison.Ordinal) && IsBeginning(line);
            yield return new JournalLine(number, cutOff ? LineState.CutOff : LineState.Damaged, null,
                string.Join(", ", Named().Matches(line).Select(named => $"{named.Groups[1]} {named.Groups[2]}").Distinct()));
        }
    }

    /// <summary>The entry of a whole line; null where it is not as it was written.</summary>
    public static JournalEntry? Parse(string line) => Parse(Encoding.UTF8.GetBytes(line));

    /// <inheritdoc cref="Parse(string)"/>
    public static JournalEntry? Parse(ReadOnlySpan<byte> line)
    {
        if (!CheckedLine.TryRead(line, Name, out ReadOnlySpan<byte> text)) return null;
        try
        {
            return JournalEntry.Read(text);
        }
        catch (JsonException)
        {
            return null;
        }
    }

    private static IEnumerable<JournalEntry> Joined(string line)
    {
        for (int at = 0; at >= 0 && at < line.Length;)
        {
            int next = line.IndexOf(CheckedLine.Begin, at + 1, StringComparison.Ordinal);
            string part = next < 0 ? line[at..] : line[at..next];
            int end = part.LastIndexOf(End, StringComparison.Ordinal);
            if (end > 0 && (at > 0 || next > 0) && Parse(part[..(end + End.Length)]) is { } entry) yield return entry;
            at = next;
        }
    }

    private static bool IsBeginning(string line) => line.StartsWith(CheckedLine.Begin, StringComparison.Ordinal)
        || CheckedLine.Begin.StartsWith(line.TrimEnd('…'), StringComparison.Ordinal);

    [GeneratedRegex("\"kind\":\"([A-Za-z]{1,20})\",\"id\":\"([^\"\\\\]{1,200})\"")]
    private static partial Regex Named();
}
