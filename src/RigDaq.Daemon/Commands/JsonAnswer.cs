using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using RigDaq.Daemon.Terminal;

namespace RigDaq.Daemon.Commands;

/// <summary>
/// Writes answers for machines: camel case, one object a line, numbers in the invariant culture, figures that cannot be had as null.
/// A number that is not finite is refused by the serialiser: an answer never holds NaN.
/// </summary>
internal static class JsonAnswer
{
    public static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        NumberHandling = JsonNumberHandling.Strict,
        DefaultIgnoreCondition = JsonIgnoreCondition.Never,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>Writes one answer as one line on standard output.</summary>
    public static void Write<T>(T answer) => CommandPlace.Output.WriteLine(JsonSerializer.Serialize(answer, Options));
}
