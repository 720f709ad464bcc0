using System.Collections.Immutable;
using System.Text.Json;

namespace RigDaq.Protocol.Conformance;

/// <summary>One conversation of firmware-protocol/vectors/conversations.json: what a host does, and what must come of it.</summary>
/// <param name="Name">What it holds, in words.</param>
/// <param name="Section">The section of PROTOCOL.md.</param>
/// <param name="Needs">The capabilities without which it says nothing.</param>
/// <param name="Lacks">The capabilities with which it says nothing.</param>
/// <param name="Moves">Whether something moves in it.</param>
/// <param name="World">What of the device's world it acts on: a guard.</param>
/// <param name="Steps">Its steps, those with which it begins included.</param>
public sealed record Conversation(string Name, int Section, ImmutableArray<string> Needs, ImmutableArray<string> Lacks, bool Moves,
    ImmutableArray<string> World, ImmutableArray<ConversationStep> Steps)
{
    private static readonly Lazy<ImmutableArray<Conversation>> Embedded = new(ReadEmbedded);

    /// <summary>All of them, as they are embedded in this library.</summary>
    public static ImmutableArray<Conversation> All => Embedded.Value;

    private static ImmutableArray<Conversation> ReadEmbedded()
    {
        using Stream stream = typeof(Conversation).Assembly.GetManifestResourceStream("conversations.json")!;
        using JsonDocument document = JsonDocument.Parse(stream);
        JsonElement begins = document.RootElement.GetProperty("begins");
        return [.. document.RootElement.GetProperty("conversations").EnumerateArray().Select(c => Read(c, begins))];
    }

    private static Conversation Read(JsonElement c, JsonElement begins)
    {
        IEnumerable<JsonElement> steps = begins.GetProperty(c.GetProperty("begin").GetString()!).EnumerateArray()
            .Concat(c.GetProperty("steps").EnumerateArray());
        return new Conversation(c.GetProperty("name").GetString()!, c.GetProperty("section").GetInt32(), Words(c, "needs"),
            Words(c, "lacks"), c.GetProperty("moves").GetBoolean(), Words(c, "world"), [.. steps.Select(ConversationStep.Read)]);
    }

    private static ImmutableArray<string> Words(JsonElement c, string name) =>
        [.. c.GetProperty(name).EnumerateArray().Select(w => w.GetString()!)];
}

/// <summary>A step of a conversation.</summary>
/// <param name="Do">send, expect, never, wait, keepAlive, acknowledge or world.</param>
/// <param name="What">The message, or what of the world is set.</param>
/// <param name="Payload">What is sent, in hexadecimal; what only the device's hello tells stands as {name:bytes}.</param>
/// <param name="Fields">The fields that an expected message has: numbers, or names as in a payload.</param>
/// <param name="Within">By when it comes, in ms after the last step that did something or the last event that was expected.</param>
/// <param name="After">When it comes at the earliest, likewise.</param>
/// <param name="During">How long is waited, in ms.</param>
/// <param name="Value">What is switched: 0 or 1.</param>
public sealed record ConversationStep(string Do, string What, string Payload, ImmutableArray<KeyValuePair<string, string>> Fields,
    int Within, int After, int During, int Value)
{
    internal static ConversationStep Read(JsonElement step)
    {
        string Text(params string[] names) => names
            .Select(name => step.TryGetProperty(name, out JsonElement value) ? value.GetString() : null).FirstOrDefault(t => t is not null)
                ?? "";
        int Number(string name) => step.TryGetProperty(name, out JsonElement value) ? value.GetInt32() : 0;
        bool on = step.TryGetProperty("on", out JsonElement switched) && switched.GetBoolean();
        ImmutableArray<KeyValuePair<string, string>> fields = step.TryGetProperty("fields", out JsonElement listed)
            ? [.. listed.EnumerateObject().Select(f => KeyValuePair.Create(f.Name, f.Value.ToString()))] : [];
        return new ConversationStep(Text("do"), Text("message", "what"), Text("payload"), fields, Number("within"), Number("after"),
            Number("during"), on ? 1 : Number("value"));
    }
}
