using System.Text;
using System.Text.Json;
using RigDaq.Archive.Text;
using RigDaq.Core;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Records;

/// <summary>
/// Whether what people wrote into a record is plain text: no control characters in names, none but line ends and tabs where several
/// lines make sense. What is kept already stays as it is, and may be kept again.
/// </summary>
internal static class PlainRecord
{
    private static readonly string[] OfSeveralLines = ["notes", "reason", "source"];

    /// <param name="record">The record that is to be kept.</param>
    /// <param name="kept">The record that it takes the place of; null where there is none.</param>
    /// <exception cref="RefusalException">A text in it is not plain; the message shows it.</exception>
    public static void Require(string record, string? kept)
    {
        string[] texts = [.. NotPlain(record)];
        if (texts.Length == 0) return;
        HashSet<string> before = kept is null ? [] : [.. NotPlain(kept)];
        if (texts.FirstOrDefault(text => !before.Contains(text)) is { } fresh)
            throw new RefusalException(ArchiveText.TextNotPlain(PlainText.Shown(fresh)));
    }

    private static List<string> NotPlain(string record)
    {
        var reader = new Utf8JsonReader(Encoding.UTF8.GetBytes(record));
        var found = new List<string>();
        bool ofSeveralLines = false;
        while (reader.Read())
        {
            if (reader.TokenType is not (JsonTokenType.String or JsonTokenType.PropertyName)) continue;
            if (reader.GetString() is { } text && !PlainText.IsPlain(text, ofSeveralLines)) found.Add(text);
            if (reader.TokenType == JsonTokenType.PropertyName) ofSeveralLines = OfSeveralLines.Contains(reader.GetString());
        }

        return found;
    }
}
