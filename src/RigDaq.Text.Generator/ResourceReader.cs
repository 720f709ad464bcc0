using System.Text;

namespace RigDaq.Text.Generator;

/// <summary>One text of a resource.</summary>
internal sealed class ResourceText
{
    /// <summary>Its section.</summary>
    public string Section { get; set; } = "";

    /// <summary>Its key, with the parameters.</summary>
    public string Key { get; set; } = "";

    /// <summary>What it says.</summary>
    public string Value { get; set; } = "";

    /// <summary>Where the key begins in the file.</summary>
    public int At { get; set; }
}

/// <summary>
/// Reads a resource: a JSON object of sections, each an object of keys and texts. Our own, because a reader of the framework neither tells
/// where a key stands nor that it stands there twice, and a generator should bring no library along.
/// </summary>
internal sealed class ResourceReader
{
    private readonly string _json;
    private int _at;

    private ResourceReader(string json) => _json = json;

    /// <summary>Every text, in order.</summary>
    /// <exception cref="ResourceException">It is not written so.</exception>
    public static List<ResourceText> Read(string json)
    {
        var reader = new ResourceReader(json);
        var texts = new List<ResourceText>();
        reader.Members((section, _) => reader.Members((key, at) =>
        {
            texts.Add(new ResourceText { Section = section, Key = key, Value = reader.Text(), At = at });
        }));
        return texts;
    }

    private void Members(Action<string, int> member)
    {
        Expect('{');
        if (Next() == '}')
        {
            _at++;
            return;
        }

        while (true)
        {
            Next();
            int at = _at;
            string key = Text();
            Expect(':');
            member(key, at);
            if (Next() == ',')
            {
                _at++;
                continue;
            }

            Expect('}');
            return;
        }
    }

    private string Text()
    {
        Expect('"');
        var to = new StringBuilder();
        while (_at < _json.Length && _json[_at] != '"')
        {
            char c = _json[_at++];
            if (c != '\\')
            {
                to.Append(c);
                continue;
            }

            char escaped = _at < _json.Length ? _json[_at++] : '\0';
            to.Append(escaped switch
            {
                'n' => '\n',
                't' => '\t',
                'r' => '\r',
                'u' when _at + 4 <= _json.Length => (char)Convert.ToInt32(_json.Substring((_at += 4) - 4, 4), 16),
                '"' or '\\' or '/' => escaped,
                _ => throw new ResourceException("an escape that is not known", _at),
            });
        }

        Expect('"');
        return to.ToString();
    }

    private char Next()
    {
        while (_at < _json.Length && char.IsWhiteSpace(_json[_at])) _at++;
        return _at < _json.Length ? _json[_at] : '\0';
    }

    private void Expect(char c)
    {
        if (c == '"' ? _at < _json.Length && _json[_at] == c || Next() == c : Next() == c) _at++;
        else throw new ResourceException($"{c} was expected", _at);
    }
}

/// <summary>A resource cannot be read.</summary>
internal sealed class ResourceException : Exception
{
    /// <summary>Makes one.</summary>
    public ResourceException(string message, int at) : base(message) => At = at;

    /// <summary>Where in the file.</summary>
    public int At { get; }
}
