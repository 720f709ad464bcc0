using System.Security.Cryptography;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using RigDaq.Archive.Photos;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;

namespace RigDaq.Archive.Packages;

/// <summary>The datapackage.json of a package (Data Package standard, version 2, datapackage.org), with every file's checksum.</summary>
internal static partial class DataPackageFile
{
    public const string Name = "datapackage.json";

    /// <summary>The schema of the records in a package. The folder's own rose since by what no package holds.</summary>
    public const int RecordSchema = 2;

    /// <summary>A list of a few files, and of photos at most: no such list is longer.</summary>
    private const long BytesMax = 16L << 20;

    public static void Write(string folder, StudyPackageContent content, PackageOptions options,
        IEnumerable<(string File, PackageTable? Table, string Title)> files)
    {
        var package = new JsonObject
        {
            ["$schema"] = "https://datapackage.org/profiles/2.0/datapackage.json",
            ["name"] = Slug(content.Study.Id),
            ["title"] = content.Study.Name,
            ["description"] = ArchiveText.PackageDescription.AsKept(),
            ["version"] = "1.0.0",
            ["created"] = content.Study.CreatedAt.UtcDateTime
                .ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", System.Globalization.CultureInfo.InvariantCulture),
            ["rigdaqVersion"] = options.Version,
            ["rigdaqSchema"] = RecordSchema,
        };
        if (options.Licence is { } licence) package["licenses"] = new JsonArray(new JsonObject { ["name"] = licence });
        package["resources"] = new JsonArray([.. files.Select(file => Resource(folder, file.File, file.Table, file.Title))]);
        File.WriteAllText(Path.Combine(folder, Name),
            package.ToJsonString(new JsonSerializerOptions(RecordText.Options) { WriteIndented = true }) + "\n");
    }

    /// <summary>Compares every file with its checksum.</summary>
    /// <returns>The files, as the package names them.</returns>
    /// <exception cref="InvalidDataException">A file is missing or is not the one that was written.</exception>
    public static IReadOnlySet<string> Verify(string folder)
    {
        string path = Path.Combine(folder, Name);
        if (!File.Exists(path)) throw new InvalidDataException(ArchiveText.ImportNoPackage(path, folder));
        RefuseLink(path);
        if (new FileInfo(path).Length > BytesMax) throw new InvalidDataException(ArchiveText.ImportTooLong(path, BytesMax >> 20));
        var files = new HashSet<string>(StringComparer.Ordinal);
        try
        {
            using JsonDocument package = JsonDocument.Parse(File.ReadAllBytes(path), new JsonDocumentOptions
            { AllowDuplicateProperties = false });
            RefuseOther(path, package.RootElement);
            foreach ((string name, string hash) in Resources(path, package.RootElement))
            {
                string file = Path.Combine(folder, name);
                if (!File.Exists(file)) throw new InvalidDataException(ArchiveText.ImportFileMissing(file));
                RefuseLink(file);
                if (Hash(file) != hash) throw new InvalidDataException(ArchiveText.ImportFileChanged(file));
                if (!files.Add(name)) throw new InvalidDataException(ArchiveText.ImportTwice(path, name));
            }
        }
        catch (JsonException e)
        {
            throw new InvalidDataException(ArchiveText.ImportNotJson(path, e.Message), e);
        }

        return files;
    }

    /// <summary>The name under which a photo of a package is kept; null where the path is not that of one.</summary>
    public static string? PhotoNameOf(string path)
    {
        const string Within = PhotoStore.FolderName + "/";
        return path.StartsWith(Within, StringComparison.Ordinal) && PhotoStore.IsName(path[Within.Length..]) ? path[Within.Length..] : null;
    }

    private static void RefuseOther(string path, JsonElement package)
    {
        if (package.ValueKind != JsonValueKind.Object || !package.TryGetProperty("rigdaqSchema", out JsonElement schema)
            || schema.ValueKind != JsonValueKind.Number || !schema.TryGetInt32(out int number))
            throw new InvalidDataException(ArchiveText.ImportNotOurs(path));
        if (number > RecordSchema) throw new InvalidDataException(ArchiveText.ImportNewer(path, number, RecordSchema));
    }

    private static IEnumerable<(string Name, string Hash)> Resources(string path, JsonElement package)
    {
        if (!package.TryGetProperty("resources", out JsonElement resources)
            || resources.ValueKind != JsonValueKind.Array) throw new InvalidDataException(ArchiveText.ImportResourceWithoutHash(path));
        foreach (JsonElement resource in resources.EnumerateArray())
        {
            // Only names of files of this folder and of its photos: a package must not make us read others.
            if (Text(resource, "path") is not { Length: > 0 } name || Text(resource, "hash") is not { } hash
                || !(name == Path.GetFileName(name) || PhotoNameOf(name) is not null))
                throw new InvalidDataException(ArchiveText.ImportResourceWithoutHash(path));
            yield return (name, hash);
        }
    }

    private static string? Text(JsonElement element, string name) =>
        element.ValueKind == JsonValueKind.Object && element.TryGetProperty(name, out JsonElement text)
            && text.ValueKind == JsonValueKind.String ? text.GetString() : null;

    // What a link leads to may be anything, and without end.
    private static void RefuseLink(string path)
    {
        if (File.GetAttributes(path).HasFlag(FileAttributes.ReparsePoint)) throw new InvalidDataException(ArchiveText.ImportLink(path));
    }

    private static JsonObject Resource(string folder, string file, PackageTable? table, string title)
    {
        string path = Path.Combine(folder, file);
        string extension = Path.GetExtension(file).TrimStart('.');
        var resource = new JsonObject
        {
            ["name"] = Slug(Path.GetFileNameWithoutExtension(file)),
            ["path"] = file,
            ["title"] = title,
            ["format"] = extension,
            ["mediatype"] = extension switch
            {
                "csv" => "text/csv",
                "json" => "application/json",
                "jsonl" => "application/jsonl",
                "jpg" => "image/jpeg",
                "png" => "image/png",
                _ => "application/vnd.apache.parquet"
            },
            ["bytes"] = new FileInfo(path).Length,
            ["hash"] = Hash(path),
        };
        if (extension is "csv" or "json" or "jsonl") resource["encoding"] = "utf-8";
        if (table is null) return resource;
        resource["type"] = "table";
        var schema = new JsonObject { ["fields"] = new JsonArray([.. table.Fields.Select(Field)]), ["missingValues"] = new JsonArray("") };
        if (table.PrimaryKey.Count > 0) schema["primaryKey"] = new JsonArray([.. table.PrimaryKey.Select(key => (JsonNode)key)]);
        resource["schema"] = schema;
        return resource;
    }

    private static JsonObject Field(PackageField field)
    {
        var described = new JsonObject { ["name"] = field.Name, ["type"] = field.Type, ["description"] = field.Description };
        if (field.Unit is not null) described["unit"] = field.Unit;
        return described;
    }

    private static string Hash(string file)
    {
        using FileStream stream = File.OpenRead(file);
        return "sha256:" + Convert.ToHexStringLower(SHA256.HashData(stream));
    }

    private static string Slug(string text)
    {
        string slug = NotInSlug().Replace(text.ToLowerInvariant(), "-").Trim('-', '.');
        return slug.Length == 0 ? "study" : slug;
    }

    [GeneratedRegex("[^a-z0-9._-]+")]
    private static partial Regex NotInSlug();
}
