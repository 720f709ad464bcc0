using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace RigDaq.Publishing.Messages;

/// <summary>How payloads are written: UTF-8 JSON, camel case, a figure that cannot be had is null.</summary>
[JsonSerializable(typeof(RunMessage))]
[JsonSerializable(typeof(StateMessage))]
[JsonSerializable(typeof(OfflineMessage))]
[JsonSerializable(typeof(AlarmMessage))]
[JsonSerializable(typeof(LiveMessage))]
internal sealed partial class PayloadJson : JsonSerializerContext
{
    /// <summary>The version of all payloads: it rises only when a member changes its meaning or goes away.</summary>
    internal const int Version = 1;

    private static readonly PayloadJson Context = new(new JsonSerializerOptions
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        // Payloads are never put into a page as text, so "°C" may stay readable.
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    });

    internal static byte[] Write<T>(T message) => JsonSerializer.SerializeToUtf8Bytes(message, typeof(T), Context);
}
