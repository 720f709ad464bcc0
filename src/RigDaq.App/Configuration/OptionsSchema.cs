using System.Reflection;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Schema;

namespace RigDaq.App.Configuration;

/// <summary>The JSON Schema (2020-12) of the configuration, for editors that complete and underline: every key, its kind, its default,
/// and that there is no other. Ranges and what must fit together are <c>check --config</c>'s.</summary>
internal static class OptionsSchema
{
    /// <summary>Makes it of the options that are read.</summary>
    public static JsonNode Make()
    {
        var reader = new JsonSerializerOptions(OptionsReader.Serializer);
        reader.MakeReadOnly(populateMissingResolver: true);
        JsonNode schema = reader.GetJsonSchemaAsNode(typeof(DaemonOptions), new JsonSchemaExporterOptions
        {
            TreatNullObliviousAsNonNullable = true,
            TransformSchemaNode = static (context, node) => Closed(context, node),
        });
        schema["$schema"] = "https://json-schema.org/draft/2020-12/schema";
        schema["properties"]![OptionsReader.SchemaKey] = new JsonObject { ["type"] = "string" };
        Fill(schema, new DaemonOptions(), typeof(DaemonOptions));
        return schema;
    }

    private static JsonNode Closed(JsonSchemaExporterContext context, JsonNode node)
    {
        if (node is JsonObject section && section.ContainsKey("properties")) section["additionalProperties"] = false;
        return node;
    }

    /// <summary>Defaults; what cannot be set (figures that follow from others) goes.</summary>
    private static void Fill(JsonNode schema, object? section, Type type)
    {
        if (schema["properties"] is not JsonObject keys) return;
        foreach (PropertyInfo property in type.GetProperties(BindingFlags.Public | BindingFlags.Instance))
        {
            string key = JsonNamingPolicy.CamelCase.ConvertName(property.Name);
            if (!property.CanWrite)
            {
                keys.Remove(key);
                continue;
            }

            if (keys[key] is not JsonObject told) continue;
            object? value = section is null ? null : property.GetValue(section);
            if (told.ContainsKey("properties")) Fill(told, value, property.PropertyType);
            else if (value is string or bool or int or double) told["default"] = JsonSerializer.SerializeToNode(value, value.GetType());
        }
    }
}
