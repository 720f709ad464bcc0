using System.Collections;
using System.Reflection;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Core.Specimens;

namespace RigDaq.App.Configuration;

/// <summary>Reads the configuration: a JSON file (comments allowed), then the environment, where RIGDAQ__SERIAL__BAUD stands for
/// serial.baud. An unknown key is refused by its name, with the nearest known one; nothing is silently ignored.</summary>
internal static class OptionsReader
{
    /// <summary>What the names of our environment variables begin with.</summary>
    public const string EnvironmentPrefix = "RIGDAQ__";

    /// <summary>By this key an editor finds the schema of a file (<see cref="OptionsSchema"/>); nothing is read from it here.</summary>
    public const string SchemaKey = "$schema";

    private const long FileBytesMax = 1 << 20;

    private static readonly JsonDocumentOptions Document = new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true };

    internal static readonly JsonSerializerOptions Serializer = new(JsonSerializerDefaults.Web)
    {
        NumberHandling = JsonNumberHandling.AllowReadingFromString,
        RespectNullableAnnotations = true,
    };

    /// <summary>Reads and validates.</summary>
    /// <param name="file">The file, or null for the environment alone.</param>
    /// <param name="environment">The environment's variables.</param>
    /// <exception cref="InputException">A file, key or value is wrong.</exception>
    public static DaemonOptions Read(string? file, IDictionary environment)
    {
        JsonObject root = file is null ? [] : Parse(file);
        root.Remove(SchemaKey);
        if (file is not null) RefuseUnknown(root, typeof(DaemonOptions), file, "");
        foreach (DictionaryEntry variable in environment)
        {
            var name = (string)variable.Key;
            if (name.StartsWith(EnvironmentPrefix, StringComparison.OrdinalIgnoreCase)) Overlay(root, name, (string?)variable.Value ?? "");
        }

        RefuseNotPlain(root, file ?? AppText.RigEnvironment);
        DaemonOptions options = Bind(root, file);
        OptionsRules.Check(options, file ?? AppText.RigEnvironment);
        return options;
    }

    private static JsonObject Parse(string file)
    {
        if (!File.Exists(file)) throw InputException.In(file, AppText.ConfigFileNotThere);
        try
        {
            string text = BoundedFile.ReadText(file, FileBytesMax);
            DoubledKeys.Refuse(text, file);
            return JsonNode.Parse(text, documentOptions: Document) as JsonObject ?? throw InputException.In(file, AppText.ConfigNotObject);
        }
        catch (JsonException fault)
        {
            throw new InputException(AppText.ConfigNotJson(file, fault.LineNumber + 1, fault.BytePositionInLine + 1), fault);
        }
    }

    private static DaemonOptions Bind(JsonObject root, string? file)
    {
        try
        {
            return root.Deserialize<DaemonOptions>(Serializer) ?? new DaemonOptions();
        }
        catch (JsonException fault)
        {
            string key = (fault.Path ?? "$").TrimStart('$', '.');
            throw new InputException(AppText.ConfigWrongKind(file ?? AppText.RigEnvironment, key), fault);
        }
    }

    private static void RefuseUnknown(JsonObject node, Type type, string source, string prefix)
    {
        Dictionary<string, PropertyInfo> known = Keys(type);
        foreach ((string key, JsonNode? value) in node)
        {
            if (!known.TryGetValue(key, out PropertyInfo? property))
                throw Unknown(source, prefix + key, known.Keys.Select(k => prefix + k));
            if (value is JsonObject inner && IsSection(property.PropertyType))
                RefuseUnknown(inner, property.PropertyType, source, prefix + key + ".");
        }
    }

    private static void RefuseNotPlain(JsonNode? node, string source)
    {
        if (node is JsonObject inner)
        {
            foreach ((_, JsonNode? value) in inner) RefuseNotPlain(value, source);
        }
        else if (node is JsonArray list)
        {
            foreach (JsonNode? value in list) RefuseNotPlain(value, source);
        }
        else if (node is JsonValue value && value.TryGetValue(out string? text) && !PlainText.IsPlain(text))
        {
            throw InputException.In(source, AppText.ConfigNotPlain(value.GetPath().TrimStart('$', '.'), PlainText.Shown(text)));
        }
    }

    private static void Overlay(JsonObject root, string name, string value)
    {
        string[] path = name[EnvironmentPrefix.Length..].Split("__");
        JsonObject node = root;
        Type type = typeof(DaemonOptions);
        for (int i = 0; i < path.Length; i++)
        {
            Dictionary<string, PropertyInfo> known = Keys(type);
            if (!known.TryGetValue(path[i], out PropertyInfo? property))
                throw Unknown(AppText.RigEnvironment, name,
                    known.Keys.Select(k => EnvironmentPrefix + string.Join("__", path[..i].Append(k)).ToUpperInvariant()));
            string key = node.Select(pair => pair.Key)
                .FirstOrDefault(k => string.Equals(k, property.Name, StringComparison.OrdinalIgnoreCase)) ?? CamelCase(property.Name);
            if (i == path.Length - 1)
            {
                node[key] = property.PropertyType == typeof(bool) && bool.TryParse(value, out bool flag) ? flag : value;
                return;
            }

            if (!IsSection(property.PropertyType)) throw new InputException(AppText.ConfigKeyTooDeep(name));
            type = property.PropertyType;
            if (node[key] is not JsonObject) node[key] = new JsonObject();
            node = (JsonObject)node[key]!;
        }
    }

    private static Dictionary<string, PropertyInfo> Keys(Type type) => type.GetProperties(BindingFlags.Public | BindingFlags.Instance)
        .Where(p => p.CanWrite).ToDictionary(p => CamelCase(p.Name), StringComparer.OrdinalIgnoreCase);

    private static bool IsSection(Type type) => type.IsClass && !typeof(IEnumerable).IsAssignableFrom(type);

    private static string CamelCase(string name) => JsonNamingPolicy.CamelCase.ConvertName(name);

    private static InputException Unknown(string source, string key, IEnumerable<string> known)
    {
        string nearest = known.MinBy(candidate => Distance(candidate.ToLowerInvariant(), key.ToLowerInvariant()))!;
        return new InputException(AppText.ConfigKeyNotKnown(source, key, nearest));
    }

    /// <summary>Levenshtein's distance: how many letters differ.</summary>
    private static int Distance(string a, string b)
    {
        int[] row = [.. Enumerable.Range(0, b.Length + 1)];
        for (int i = 1; i <= a.Length; i++)
        {
            int diagonal = row[0];
            row[0] = i;
            for (int j = 1; j <= b.Length; j++)
            {
                int above = row[j];
                row[j] = Math.Min(Math.Min(row[j], row[j - 1]) + 1, diagonal + (a[i - 1] == b[j - 1] ? 0 : 1));
                diagonal = above;
            }
        }

        return row[^1];
    }
}
