using System.Text.Json;
using System.Text.Json.Serialization;

namespace RigDaq.Text;

/// <summary>A sentence in JSON: its words, in English and SI. Read back they are words and nothing else.</summary>
public sealed class SentenceConverter : JsonConverter<Sentence>
{
    /// <inheritdoc />
    public override Sentence? Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.GetString() is { } words ? Sentence.Verbatim(words) : null;

    /// <inheritdoc />
    public override void Write(Utf8JsonWriter writer, Sentence value, JsonSerializerOptions options) =>
        writer.WriteStringValue(value.AsKept());
}
