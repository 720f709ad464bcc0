using System.Buffers;
using System.Net;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.RegularExpressions;
using RigDaq.Text;

namespace RigDaq.Web.Pages;

/// <summary>Puts texts into the pages when the program starts: {{section.key}} in a page becomes its text, {{language}} the tag of the
/// language, {{> name}} a part that pages share, and scripts get the same texts as a module.</summary>
internal static partial class PageTemplates
{
    /// <summary>Where scripts find the texts.</summary>
    internal const string Script = "js/words.js";

    /// <summary>Parts that stand in several pages.</summary>
    internal const string Parts = "parts/";

    /// <summary>Puts texts and parts in, in the current language.</summary>
    /// <param name="files">Every file of the pages by its path.</param>
    /// <param name="texts">Every text by its section and key.</param>
    /// <returns>The files that are served.</returns>
    /// <exception cref="InvalidDataException">A page names a text or a part that is not there: a fault of the program.</exception>
    internal static Dictionary<string, byte[]> Fill(IReadOnlyDictionary<string, byte[]> files, IReadOnlyDictionary<string, string> texts)
    {
        var served = new Dictionary<string, byte[]>(StringComparer.Ordinal) { [Script] = Module(texts) };
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
            return Key().Replace(page.Replace("{{language}}", Language.Current.Name, StringComparison.Ordinal),
                match => texts.TryGetValue(match.Groups["key"].Value, out string? text)
                    ? WebUtility.HtmlEncode(text)
                    : throw new InvalidDataException($"{path}: there is no text {match.Value}."));
        }
    }

    private static byte[] Module(IReadOnlyDictionary<string, string> texts)
    {
        var module = new ArrayBufferWriter<byte>();
        module.Write("// Made from Text/pages.\nexport const words = "u8);
        using (var json = new Utf8JsonWriter(module, new JsonWriterOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            foreach (var section in texts.GroupBy(text => text.Key.Split('.')[0]))
            {
                json.WriteStartObject(section.Key);
                foreach ((string key, string text) in section) json.WriteString(key[(section.Key.Length + 1)..], text);
                json.WriteEndObject();
            }

            json.WriteEndObject();
        }

        module.Write(";\n"u8);
        return module.WrittenSpan.ToArray();
    }

    [GeneratedRegex(@"\{\{> (?<name>[a-z]+)\}\}")]
    private static partial Regex Part();

    [GeneratedRegex(@"\{\{(?<key>[a-z]+\.[A-Za-z0-9]+)\}\}")]
    private static partial Regex Key();
}
