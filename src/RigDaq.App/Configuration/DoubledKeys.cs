using System.Text;
using System.Text.Json;
using RigDaq.App.Input;
using RigDaq.App.Text;

namespace RigDaq.App.Configuration;

/// <summary>A key that stands twice in one section: which of the two holds would be chance, so it is refused with both places.</summary>
internal static class DoubledKeys
{
    /// <exception cref="InputException">A key stands twice; capitals do not tell keys apart.</exception>
    /// <exception cref="JsonException">It is no JSON.</exception>
    public static void Refuse(string text, string file)
    {
        byte[] bytes = Encoding.UTF8.GetBytes(text);
        var reader =
            new Utf8JsonReader(bytes, new JsonReaderOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
        var sections = new Stack<Dictionary<string, long>>();
        while (reader.Read())
        {
            switch (reader.TokenType)
            {
                case JsonTokenType.StartObject:
                    sections.Push(new Dictionary<string, long>(StringComparer.OrdinalIgnoreCase));
                    break;
                case JsonTokenType.EndObject:
                    sections.Pop();
                    break;
                case JsonTokenType.PropertyName:
                    string key = reader.GetString()!;
                    if (!sections.Peek().TryAdd(key, reader.TokenStartIndex))
                        throw new InputException(AppText.ConfigKeyTwice(file, LineOf(bytes, reader.TokenStartIndex), key,
                            LineOf(bytes, sections.Peek()[key])));
                    break;
                default:
                    break;
            }
        }
    }

    private static int LineOf(ReadOnlySpan<byte> bytes, long index) => 1 + bytes[..(int)index].Count((byte)'\n');
}
