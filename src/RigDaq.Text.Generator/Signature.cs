namespace RigDaq.Text.Generator;

/// <summary>What a key says of its text: the name, and what goes into it, as <c>replayCutOff(int sent, int runs)</c>.</summary>
internal sealed class Signature
{
    /// <summary>What may go into a text: a list is several words.</summary>
    private static readonly IReadOnlyDictionary<string, string> Types = new Dictionary<string, string>
    {
        ["string"] = "string",
        ["int"] = "int",
        ["long"] = "long",
        ["double"] = "double",
        ["bool"] = "bool",
        ["char"] = "char",
        ["object"] = "object",
        ["list"] = "global::System.Collections.Generic.IEnumerable<object>",
        ["sentences"] = "global::System.Collections.Generic.IEnumerable<global::RigDaq.Text.Sentence>",
        ["sentence"] = "global::RigDaq.Text.Sentence",
    };

    private Signature(string name, IReadOnlyList<KeyValuePair<string, string>> parameters)
    {
        Name = name;
        Parameters = parameters;
    }

    /// <summary>The key in other languages and at run time.</summary>
    public string Name { get; }

    /// <summary>The name of the member.</summary>
    public string Member => char.ToUpperInvariant(Name[0]) + Name.Substring(1);

    /// <summary>Names and types of C#, in order.</summary>
    public IReadOnlyList<KeyValuePair<string, string>> Parameters { get; }

    /// <summary>Reads one.</summary>
    /// <exception cref="FormatException">It is not written so.</exception>
    public static Signature Read(string key)
    {
        int open = key.IndexOf('(');
        string name = open < 0 ? key : key.Substring(0, open);
        if (!IsName(name)) throw new FormatException($"“{name}” is no name");
        if (open < 0) return new Signature(name, Array.Empty<KeyValuePair<string, string>>());
        if (key[key.Length - 1] != ')') throw new FormatException("a bracket that is not closed");
        KeyValuePair<string, string>[] parameters = key.Substring(open + 1, key.Length - open - 2).Split(',').Select(Parameter).ToArray();
        if (parameters.Select(one => one.Key).Distinct()
            .Count() < parameters.Length) throw new FormatException("two parameters of one name");
        return new Signature(name, parameters);
    }

    private static KeyValuePair<string, string> Parameter(string text)
    {
        string[] words = text.Trim().Split(' ');
        if (words.Length != 2 || !IsName(words[1])) throw new FormatException($"“{text.Trim()}” is no type and name");
        bool mayBeNull = words[0].EndsWith("?", StringComparison.Ordinal);
        string type = mayBeNull ? words[0].Substring(0, words[0].Length - 1) : words[0];
        if (!Types.TryGetValue(type, out string? inCode)) throw new FormatException($"“{type}” is none of {string.Join(", ", Types.Keys)}");
        return new KeyValuePair<string, string>(words[1], inCode + (mayBeNull ? "?" : ""));
    }

    private static bool IsName(string name) => name.Length > 0 && char.IsLetter(name[0]) && name.All(char.IsLetterOrDigit);
}
