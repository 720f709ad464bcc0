using System.Collections.Concurrent;
using System.Reflection;
using System.Text.Json;

namespace RigDaq.Text;

/// <summary>The texts of one room: what <c>Text/en.json</c> says, and the other languages that stand beside it.</summary>
/// <param name="room">The assembly that carries them.</param>
/// <param name="folder">Where in it.</param>
/// <param name="bySection">Whether a text is called by its section and its name, as <c>run.title</c>; otherwise by its name alone.</param>
public sealed class TextTable(Assembly room, string folder = "Text", bool bySection = false)
{
    private const string Rooms = "RigDaq.";
    private const int RoomMax = 32;

    private static readonly JsonSerializerOptions Reading = new() { ReadCommentHandling = JsonCommentHandling.Skip };
    private static readonly ConcurrentDictionary<string, TextTable> Known = new();

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

    /// <summary>Every text by its key in the current language, with its places as they are written: for those who fill them by themselves,
    /// as the pages' scripts do. They know none but <c>{name}</c>.</summary>
    /// <exception cref="InvalidOperationException">A text has a place of another kind: a fault of the resource.</exception>
    public IReadOnlyDictionary<string, string> Unfilled() => Keys.ToDictionary(key => key, key => string.Concat(
        Find(key, Language.Current).Parts.Select(part => part.Kind switch
        {
            PartKind.Words => part.Name,
            PartKind.Value => $"{{{part.Name}}}",
            _ => throw new InvalidOperationException($"{key}: nobody fills a place of the kind {part.Kind} there."),
        })));

    /// <summary>The room as kept sentences name it; null where its texts are of one page or one program.</summary>
    internal string? Room => folder == "Text" && room.GetName().Name is { } name && name.StartsWith(Rooms, StringComparison.Ordinal)
        ? name[Rooms.Length..] : null;

    /// <summary>The texts of a room of this program; null where there is no such room.</summary>
    internal static TextTable? OfRoom(string name)
    {
        if (Known.TryGetValue(name, out TextTable? known)) return known;
        if (name.Length > RoomMax || !name.All(char.IsAsciiLetter)) return null;
        try
        {
            return Known.GetOrAdd(name, new TextTable(Assembly.Load(Rooms + name)));
        }
        catch (IOException)
        {
            return null;
        }
    }

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
        return JsonSerializer.Deserialize<Dictionary<string, Dictionary<string, string>>>(stream, Reading)!
            .SelectMany(section => section.Value, (section, text) => (Section: bySection ? section.Key + "." : "", text.Key, text.Value))
            .ToDictionary(each => each.Section + each.Key.Split('(')[0], each => TemplateReader.Read(each.Value));
    }
}
