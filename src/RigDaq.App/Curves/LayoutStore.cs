using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.RegularExpressions;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Archive.Storage;
using RigDaq.Tables.Readings;

namespace RigDaq.App.Curves;

/// <summary>Layouts of tables that are kept under a name, one small JSON file each in the data folder.</summary>
/// <param name="dataFolder">The data folder.</param>
internal sealed partial class LayoutStore(string dataFolder)
{
    private const long FileBytesMax = 1 << 16;
    private const int LayoutsMax = 1_000;

    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        IgnoreReadOnlyProperties = true,
    };

    private readonly string _folder = Path.Combine(dataFolder, "layouts");

    /// <summary>The names, in order.</summary>
    public IReadOnlyList<string> Names() => Directory.Exists(_folder)
        ? [.. Directory.EnumerateFiles(_folder, "*.json").Select(file => Path.GetFileNameWithoutExtension(file))
            .Order(StringComparer.OrdinalIgnoreCase).Take(LayoutsMax)]
        : [];

    /// <summary>Reads a layout.</summary>
    /// <exception cref="InputException">There is none of this name, or its file was changed into something else.</exception>
    public ReadingOptions Read(string name)
    {
        string file = FileOf(name);
        if (!File.Exists(file)) throw new InputException(AppText.LayoutNotThere(name, Names()));
        try
        {
            if (new FileInfo(file).Length > FileBytesMax) throw new InputException(AppText.LayoutBroken(name, file));
            return JsonSerializer.Deserialize<ReadingOptions>(File.ReadAllBytes(file), Json)
                ?? throw new InputException(AppText.LayoutBroken(name, file));
        }
        catch (JsonException fault)
        {
            throw new InputException(AppText.LayoutBroken(name, file), fault);
        }
    }

    /// <summary>Keeps a layout; one of the same name is replaced, whole or not at all.</summary>
    /// <exception cref="InputException">The name cannot be a file's, or there are too many.</exception>
    public void Save(string name, ReadingOptions layout)
    {
        string file = FileOf(name);
        if (!File.Exists(file) && Names().Count >= LayoutsMax) throw new InputException(AppText.LayoutsTooMany(LayoutsMax));
        OwnersFile.MakeFolder(_folder);
        string written = file + ".new";
        using (FileStream draft = OwnersFile.Open(written, FileMode.Create)) draft.Write(JsonSerializer.SerializeToUtf8Bytes(layout, Json));
        File.Move(written, file, overwrite: true);
    }

    private string FileOf(string name) =>
        NamePattern().IsMatch(name) ? Path.Combine(_folder, name + ".json") : throw new InputException(AppText.LayoutName(name));

    [GeneratedRegex(@"^[\p{L}\p{N}][\p{L}\p{N} _-]{0,59}$")]
    private static partial Regex NamePattern();
}
