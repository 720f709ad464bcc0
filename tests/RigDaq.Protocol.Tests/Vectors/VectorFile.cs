using System.Text.Json;

namespace RigDaq.Protocol.Tests.Vectors;

/// <summary>The files of firmware-protocol/vectors, which hold every implementation of the wire to the same bytes.</summary>
internal static class VectorFile
{
    public static JsonElement Framing { get; } = Read("framing.json");

    public static JsonElement Messages { get; } = Read("messages.json");

    public static JsonElement Hostile { get; } = Read("hostile.json");

    public static byte[] Bytes(this JsonElement vector, string property) => Convert.FromHexString(vector.Text(property));

    public static string Text(this JsonElement vector, string property) => vector.GetProperty(property).GetString()!;

    public static IEnumerable<string> Names(this JsonElement list) => list.EnumerateArray().Select(v => v.Text("name"));

    public static JsonElement Named(this JsonElement list, string name) => list.EnumerateArray().Single(v => v.Text("name") == name);

    private static JsonElement Read(string name)
    {
        string path = Path.Combine(AppContext.BaseDirectory, "vectors", name);
        using JsonDocument document = JsonDocument.Parse(File.ReadAllBytes(path));
        return document.RootElement.Clone();
    }
}
