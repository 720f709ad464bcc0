using System.Collections.Concurrent;
using System.Reflection;
using System.Text.Json;

namespace RigDaq.Text;

/// <summary>The texts of one room: what <c>Text/en.json</c> says, and the other languages that stand beside it.</summary>
/// <param name="room">The assembly that carries them.</param>
/// <param name="folder">Where in it.</param>
public sealed class TextTable(Assembly room, string folder = "Text")
{
    private static readonly JsonSerializerOptions Reading = new() { ReadCommentHandling = JsonCommentHandling.Skip };

    private readonly ConcurrentDictionary<string, Dictionary<string, Template>> _languages = new();

    /// <summary>A text as a value, to be said where somebody reads it.</summary>
    /// <param name="key">Its name in the resource.</param>
    /// <param name="arguments">What goes into its places.</param>
    public Sentence Sentence(string key, params (string Name, object? Value)[] arguments) => new(this, key, arguments);

    /// <summary>A text, said.</summary>
    /// <param name="key">Its name in the resource.</param>
    /// <param name="arguments">What goes into its places.</param>
    public string Say(string key, params (string Name, object? Value)[] arguments) =>
        TemplateWriter.Write(this, Find(key, Language.Current), arguments, SiWriter.Instance, Language.Current);

    /// <summary>Every key.</summary>
    public IEnumerable<string> Keys => In(Language.English).Keys;

    internal Template Find(string key, Language language) =>
        In(language).TryGetValue(key, out Template? template) || In(Language.English).TryGetValue(key, out template)
            ? template
            : throw new InvalidOperationException($"There is no text {key} in {room.GetName().Name}.");

    private Dictionary<string, Template> In(Language language) => _languages.GetOrAdd(language.Name, _ => Read(language));

    private Dictionary<string, Template> Read(Language language)
    {
        if (language == Language.Pseudo) return In(Language.English).ToDictionary(each => each.Key, each => PseudoLanguage.Of(each.Value));
        using Stream? stream = room.GetManifestResourceStream($"{folder}/{language.Name}.json");
        if (stream is null) return [];
        // The key holds the parameters as well; a text is called by its name.
        return JsonSerializer.Deserialize<Dictionary<string, Dictionary<string, string>>>(stream, Reading)!.Values
            .SelectMany(section => section).ToDictionary(each => each.Key.Split('(')[0], each => TemplateReader.Read(each.Value));
    }
}
