using System.Globalization;
using System.Net;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace RigDaq.Daemon.Dashboard;

/// <summary>
/// What the pages say, in one file, so that it can be translated: {{section.key}} in a page becomes its text when the program starts,
/// scripts get the same texts as a module, and what the daemon answers to a page is taken from it. {{> name}} puts in a part that pages share.
/// </summary>
internal static partial class PageText
{
    /// <summary>The file with every text.</summary>
    internal const string File = "text/en.json";

    /// <summary>Where scripts find the texts.</summary>
    internal const string Script = "js/words.js";

    /// <summary>Parts that stand in several pages.</summary>
    internal const string Parts = "parts/";

    private static readonly Lazy<Dictionary<string, Dictionary<string, string>>> Words = new(() => Read(PageFiles.Embedded(File)));

    /// <summary>A text for an answer or a fact that the daemon sends to a page.</summary>
    /// <param name="key">Section and key, as in the file.</param>
    /// <param name="values">What belongs into its {places}.</param>
    /// <exception cref="InvalidDataException">There is no such text: a fault of the program.</exception>
    internal static string Of(string key, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        int dot = key.IndexOf('.', StringComparison.Ordinal);
        if (!Words.Value.TryGetValue(key[..dot], out var section) || !section.TryGetValue(key[(dot + 1)..], out string? text))
            throw new InvalidDataException($"There is no text {key}.");
        foreach ((string name, object? value) in values) text = text.Replace($"{{{name}}}", Convert.ToString(value, CultureInfo.InvariantCulture), StringComparison.Ordinal);
        return text;
    }

    /// <summary>Puts texts and parts in.</summary>
    /// <param name="files">Every file of the pages by its path.</param>
    /// <returns>The files that are served.</returns>
    /// <exception cref="InvalidDataException">A page names a text or a part that is not there: a fault of the program.</exception>
    internal static Dictionary<string, byte[]> Fill(IReadOnlyDictionary<string, byte[]> files)
    {
        byte[] texts = files[File];
        Dictionary<string, Dictionary<string, string>> words = Read(texts);
        var served = new Dictionary<string, byte[]>(StringComparer.Ordinal)
        {
            [Script] = [.. "// Made from text/en.json.\nexport const words = "u8, .. texts.AsSpan().TrimEnd((byte)'\n'), .. ";\n"u8],
        };
        foreach ((string path, byte[] bytes) in files)
        {
            if (path == File || path.StartsWith(Parts, StringComparison.Ordinal)) continue;
            served[path] = path.EndsWith(".html", StringComparison.Ordinal) ? Encoding.UTF8.GetBytes(Fill(path, Encoding.UTF8.GetString(bytes))) : bytes;
        }

        return served;

        string Fill(string path, string page)
        {
            page = Part().Replace(page, match => files.TryGetValue($"{Parts}{match.Groups["name"].Value}.html", out byte[]? part)
                ? Encoding.UTF8.GetString(part).TrimEnd('\n')
                : throw new InvalidDataException($"{path}: there is no part {match.Value}."));
            return Key().Replace(page, match => words.TryGetValue(match.Groups["section"].Value, out var section) && section.TryGetValue(match.Groups["key"].Value, out string? text)
                ? WebUtility.HtmlEncode(text)
                : throw new InvalidDataException($"{path}: there is no text {match.Value}."));
        }
    }

    private static Dictionary<string, Dictionary<string, string>> Read(byte[] texts) =>
        JsonSerializer.Deserialize<Dictionary<string, Dictionary<string, string>>>(texts)!;

    [GeneratedRegex(@"\{\{> (?<name>[a-z]+)\}\}")]
    private static partial Regex Part();

    [GeneratedRegex(@"\{\{(?<section>[a-z]+)\.(?<key>[A-Za-z0-9]+)\}\}")]
    private static partial Regex Key();
}
