using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using RigDaq.Archive.Text;
using RigDaq.Core.Pulls;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Storage;

/// <summary>
/// Records as JSON text. Members that a later version adds are skipped by an earlier one, and members that an earlier one
/// did not know take their defaults, so that records may grow.
/// </summary>
internal static class RecordText
{
    public static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        // A run must never be lost because a figure in it could not be had.
        NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
        // What may not be null is not read as null: it would be found out much later, and elsewhere.
        RespectNullableAnnotations = true,
        AllowDuplicateProperties = false,
        // Files are read by people, too: "°" stays "°".
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new JsonStringEnumConverter(), new PrintConverter() },
        TypeInfoResolver = new DefaultJsonTypeInfoResolver { Modifiers = { SentenceValues.Beside } },
    };

    public static string Of<T>(T record) => JsonSerializer.Serialize(record, Options);

    /// <exception cref="JsonException">The text is not such a record.</exception>
    public static T Read<T>(string text)
    {
        T record = JsonSerializer.Deserialize<T>(text, Options) ?? throw new JsonException(ArchiveText.RecordEmpty(typeof(T).Name));
        return record is Study study && PrintConverter.Place(study) is T placed ? placed : record;
    }

    /// <summary>A pull without its samples, which are kept apart and packed.</summary>
    public static string WithoutSamples(PullRecord pull) => Of(pull with { Trace = pull.Trace with { Samples = [] } });
}
