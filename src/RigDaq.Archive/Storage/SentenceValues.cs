using System.Text.Json.Nodes;
using System.Text.Json.Serialization.Metadata;
using RigDaq.Text;

namespace RigDaq.Archive.Storage;

/// <summary>
/// Beside each sentence of a record, as <c>warnings</c>, what it is made of, as <c>warningsValues</c>: so that it can be said in other
/// units and languages later. Records of before have their words alone, and those are shown as they were written.
/// </summary>
internal static class SentenceValues
{
    private const string Suffix = "Values";

    /// <summary>Adds the values to what is written and read of a type.</summary>
    public static void Beside(JsonTypeInfo type)
    {
        if (type.Kind != JsonTypeInfoKind.Object) return;
        foreach (JsonPropertyInfo words in type.Properties.ToArray())
        {
            bool several = words.PropertyType == typeof(IReadOnlyList<Sentence>);
            if ((!several && words.PropertyType != typeof(Sentence)) || words.Get is not { } get || words.Set is not { } set) continue;
            JsonPropertyInfo values = type.CreateJsonPropertyInfo(typeof(JsonNode), words.Name + Suffix);
            values.Get = record => get(record) switch
            {
                Sentence one => SentenceValue.Of(one),
                IReadOnlyList<Sentence> all => Of(all),
                _ => null,
            };
            values.Set = (record, value) => set(record, get(record) switch
            {
                Sentence one => SentenceValue.Read(one.AsKept(), value as JsonNode),
                IReadOnlyList<Sentence> all when value is JsonArray made && made.Count == all.Count
                    => all.Select((one, i) => SentenceValue.Read(one.AsKept(), made[i])).ToArray(),
                var alone => alone,
            });
            values.ShouldSerialize = (_, value) => value is not null;
            type.Properties.Add(values);
        }
    }

    private static JsonArray? Of(IReadOnlyList<Sentence> sentences)
    {
        JsonNode?[] values = [.. sentences.Select(SentenceValue.Of)];
        return values.All(value => value is null) ? null : new JsonArray(values);
    }
}
