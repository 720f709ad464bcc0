using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace RigDaq.Text;

/// <summary>
/// What a sentence is made of, to be kept beside its words so that it can be said in other units and languages later:
/// <c>{"code": "Core.forceLimitReached", "with": {"newtons": 512.3}}</c>. The words are what is true: a value counts only while it says them,
/// word for word, in English and SI. Where a text was worded anew, or a file was written by somebody else, they are shown as they stand.
/// </summary>
public static class SentenceValue
{
    private const int DepthMax = 8;
    private const int ListMax = 10_000;

    /// <summary>The value.</summary>
    /// <param name="sentence">Said.</param>
    /// <returns>Null of words that are nobody's to translate, and of texts of a page or a program.</returns>
    public static JsonNode? Of(Sentence sentence)
    {
        if (sentence.Table?.Room is not { } room) return null;
        var value = new JsonObject { ["code"] = $"{room}.{sentence.Code}" };
        if (sentence.Arguments.Count > 0)
            value["with"] = new JsonObject(sentence.Arguments.Select(each => KeyValuePair.Create(each.Name, Kept(each.Value))));
        return value;
    }

    /// <summary>The sentence of kept words.</summary>
    /// <param name="words">As they were kept.</param>
    /// <param name="value">What stood beside them; null or anything.</param>
    /// <returns>The words alone where the value does not say them.</returns>
    public static Sentence Read(string words, JsonNode? value)
    {
        try
        {
            if (value is JsonObject && Given(value, 0) is Sentence sentence && sentence.AsKept() == words) return sentence;
        }
        catch (Exception e) when (e is InvalidOperationException or FormatException or InvalidCastException or OverflowException
            or ArgumentException)
        {
            // A text that is not there, or with other places: of another version of this program.
        }

        return Sentence.Verbatim(words);
    }

    private static JsonNode? Kept(object? value) => value switch
    {
        null => null,
        Sentence sentence => Of(sentence) ?? sentence.AsKept(),
        bool yes => yes,
        int or long => Convert.ToInt64(value, CultureInfo.InvariantCulture),
        double figure when double.IsFinite(figure) => figure,
        decimal figure => figure,
        DateTimeOffset at => at.ToString("O", CultureInfo.InvariantCulture),
        string words => words,
        System.Collections.IEnumerable several => new JsonArray([.. several.Cast<object?>().Select(Kept)]),
        IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
        _ => value.ToString(),
    };

    private static object? Given(JsonNode? kept, int depth)
    {
        if (depth > DepthMax) throw new FormatException();
        switch (kept)
        {
            case JsonObject value:
                if (value["code"]?.GetValue<string>().Split('.') is not [string room, string key]) return null;
                return TextTable.OfRoom(room)?.Sentence(key,
                    [.. (value["with"] as JsonObject ?? []).Select(each => (each.Key, Given(each.Value, depth + 1)))]);
            case JsonArray several when several.Count <= ListMax:
                return several.Select(each => Given(each, depth + 1)).ToArray();
            case JsonValue plain:
                return plain.GetValueKind() switch
                {
                    JsonValueKind.True => true,
                    JsonValueKind.False => false,
                    JsonValueKind.Number => Number(plain.ToJsonString()),
                    _ => Words(plain.GetValue<string>()),
                };
            default:
                return null;
        }
    }

    private static object Words(string words) =>
        DateTimeOffset.TryParseExact(words, "O", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTimeOffset at) ? at : words;

    // As what it was, as far as one sees it: 210.0 is no double.
    private static object Number(string text)
    {
        if (long.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long whole)) return whole;
        double figure = double.Parse(text, CultureInfo.InvariantCulture);
        return figure.ToString(CultureInfo.InvariantCulture) == text || !decimal.TryParse(text, CultureInfo.InvariantCulture, out decimal d)
            ? figure : d;
    }
}
