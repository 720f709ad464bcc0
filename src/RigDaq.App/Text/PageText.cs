using System.Globalization;
using System.Text.Json;

namespace RigDaq.App.Text;

/// <summary>
/// What the pages say, in one file, so that it can be translated: the pages are filled from it, scripts get it as a module, and what the
/// program answers to a page is taken from it.
/// </summary>
internal static class PageText
{
    private const string Resource = "Text/pages/en.json";

    private static readonly Lazy<IReadOnlyDictionary<string, IReadOnlyDictionary<string, string>>> Words = new(() => Read(File()));

    /// <summary>A text for an answer or a fact that the program sends to a page.</summary>
    /// <param name="key">Section and key, as in the file.</param>
    /// <param name="values">What belongs into its {places}.</param>
    /// <exception cref="InvalidDataException">There is no such text: a fault of the program.</exception>
    internal static string Of(string key, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        int dot = key.IndexOf('.', StringComparison.Ordinal);
        if (!Words.Value.TryGetValue(key[..dot], out var section) || !section.TryGetValue(key[(dot + 1)..], out string? text))
            throw new InvalidDataException($"There is no text {key}.");
        foreach ((string name, object? value) in values) text = text
            .Replace($"{{{name}}}", Convert.ToString(value, CultureInfo.InvariantCulture), StringComparison.Ordinal);
        return text;
    }

    /// <summary>Every text of such a file, by its section and key.</summary>
    internal static IReadOnlyDictionary<string, IReadOnlyDictionary<string, string>> Read(byte[] texts) =>
        JsonSerializer.Deserialize<Dictionary<string, Dictionary<string, string>>>(texts)!
            .ToDictionary(section => section.Key, section => (IReadOnlyDictionary<string, string>)section.Value);

    /// <summary>The file with every text, as it is carried in the program.</summary>
    internal static byte[] File()
    {
        using Stream stream = typeof(PageText).Assembly.GetManifestResourceStream(Resource)!;
        byte[] bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}
