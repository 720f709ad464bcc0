using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using RigDaq.App.Text;

namespace RigDaq.Web.Pages;

/// <summary>
/// Puts texts into the pages when the program starts: {{section.key}} in a page becomes its text, {{> name}} a part that pages share,
/// and scripts get the same texts as a module.
/// </summary>
internal static partial class PageTemplates
{
    /// <summary>Where scripts find the texts.</summary>
    internal const string Script = "js/words.js";

    /// <summary>Parts that stand in several pages.</summary>
    internal const string Parts = "parts/";

    /// <summary>Puts texts and parts in.</summary>
    /// <param name="files">Every file of the pages by its path.</param>
    /// <param name="texts">The file of texts.</param>
    /// <returns>The files that are served.</returns>
    /// <exception cref="InvalidDataException">A page names a text or a part that is not there: a fault of the program.</exception>
    internal static Dictionary<string, byte[]> Fill(IReadOnlyDictionary<string, byte[]> files, byte[] texts)
    {
        IReadOnlyDictionary<string, IReadOnlyDictionary<string, string>> words = PageText.Read(texts);
        var served = new Dictionary<string, byte[]>(StringComparer.Ordinal)
        {
            [Script] = [.. "// Made from Text/pages/en.json.\nexport const words = "u8, .. texts.AsSpan().TrimEnd((byte)'\n'), .. ";\n"u8],
        };
        foreach ((string path, byte[] bytes) in files)
        {
            if (path.StartsWith(Parts, StringComparison.Ordinal)) continue;
            served[path] = path.EndsWith(".html", StringComparison.Ordinal)
                ? Encoding.UTF8.GetBytes(Fill(path, Encoding.UTF8.GetString(bytes))) : bytes;
        }

        return served;

        string Fill(string path, string page)
        {
            page = Part().Replace(page, match => files.TryGetValue($"{Parts}{match.Groups["name"].Value}.html", out byte[]? part)
                ? Encoding.UTF8.GetString(part).TrimEnd('\n')
                : throw new InvalidDataException($"{path}: there is no part {match.Value}."));
            return Key().Replace(page, match => words.TryGetValue(match.Groups["section"].Value, out var section)
                && section.TryGetValue(match.Groups["key"].Value, out string? text)
                ? WebUtility.HtmlEncode(text)
                : throw new InvalidDataException($"{path}: there is no text {match.Value}."));
        }
    }

    [GeneratedRegex(@"\{\{> (?<name>[a-z]+)\}\}")]
    private static partial Regex Part();

    [GeneratedRegex(@"\{\{(?<section>[a-z]+)\.(?<key>[A-Za-z0-9]+)\}\}")]
    private static partial Regex Key();
}
