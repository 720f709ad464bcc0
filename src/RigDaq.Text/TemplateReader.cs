using System.Text;

namespace RigDaq.Text;

/// <summary>Reads a template as it is written in a resource.</summary>
public sealed class TemplateReader
{
    private readonly string _text;
    private int _at;

    private TemplateReader(string text) => _text = text;

    /// <summary>The template.</summary>
    /// <param name="text">As it is written.</param>
    /// <exception cref="FormatException">It is not written as a template is; the message says what is wrong.</exception>
    public static Template Read(string text)
    {
        var reader = new TemplateReader(text);
        Template template = reader.Parts(inPlural: false);
        if (reader._at < text.Length) throw new FormatException("a closing brace without an opening one");
        return template;
    }

    private Template Parts(bool inPlural)
    {
        var parts = new List<Part>();
        var words = new StringBuilder();
        while (_at < _text.Length && _text[_at] != '}')
        {
            char c = _text[_at];
            if (c == '\'' && _at + 2 < _text.Length && _text[_at + 1] is '{' or '}' && _text[_at + 2] == '\'')
            {
                words.Append(_text[_at + 1]);
                _at += 3;
            }
            else if (c == '{' || (c == '#' && inPlural))
            {
                if (words.Length > 0) parts.Add(new Part(PartKind.Words, words.ToString()));
                words.Clear();
                _at++;
                parts.Add(c == '#' ? new Part(PartKind.Count, "") : Place(inPlural));
            }
            else
            {
                words.Append(c);
                _at++;
            }
        }

        if (words.Length > 0) parts.Add(new Part(PartKind.Words, words.ToString()));
        return new Template(parts);
    }

    private Part Place(bool inPlural)
    {
        string name = Until(',', '}').Trim();
        if (Take('}'))
            return name.Length > 0 && name[0] == '@' ? new Part(PartKind.Other, name.Substring(1)) : new Part(PartKind.Value, Named(name));
        if (!Take(',')) throw new FormatException("an opening brace without a closing one");
        string kind = Until(',', '}').Trim();
        if (kind is "plural" or "select")
        {
            if (!Take(',')) throw new FormatException($"{kind} of {name} without cases");
            Dictionary<string, Template> cases = Cases(kind == "plural" || inPlural);
            if (!cases.ContainsKey(Template.Otherwise)) throw new FormatException($"{kind} of {name} without the case {Template.Otherwise}");
            return new Part(kind == "plural" ? PartKind.Plural : PartKind.Select, Named(name), cases: cases);
        }

        string format = Take(',') ? Until('}', '}') : "";
        if (!Take('}')) throw new FormatException("an opening brace without a closing one");
        string[] words = kind.Split(' ');
        if (kind == "number") return new Part(PartKind.Number, Named(name), format.Trim());
        if (words[0] == "list")
            return new Part(PartKind.List, Named(name), format.Length == 0 ? ", " : format, words.Length > 1 ? words[1] : "");
        if (!Template.Quantities.ContainsKey(words[0]) || words.Length > 2) throw new FormatException($"“{kind}” is no kind of place");
        return words.Length == 1 ? new Part(PartKind.Quantity, Named(name), format.Trim(), words[0])
            : words[1] == "figure" ? new Part(PartKind.Figure, Named(name), format.Trim(), words[0])
            : words[1] == "unit" ? new Part(PartKind.Unit, "", "", words[0])
            : throw new FormatException($"“{kind}” is no kind of place");
    }

    private Dictionary<string, Template> Cases(bool inPlural)
    {
        var cases = new Dictionary<string, Template>();
        while (true)
        {
            string key = Until('{', '}').Trim();
            if (Take('}')) return cases;
            if (!Take('{')) throw new FormatException("an opening brace without a closing one");
            if (key.Length == 0 || cases.ContainsKey(key)) throw new FormatException($"a case that is empty or doubled: “{key}”");
            cases[key] = Parts(inPlural);
            if (!Take('}')) throw new FormatException("an opening brace without a closing one");
        }
    }

    private static string Named(string name)
    {
        if (name.Length == 0) throw new FormatException("a place without a name");
        foreach (char c in name)
        {
            if (!char.IsLetterOrDigit(c) && !(c == '.' && char.IsDigit(name[0]))) throw new FormatException($"“{name}” is no name");
        }

        return name;
    }

    private string Until(char one, char other)
    {
        int from = _at;
        while (_at < _text.Length && _text[_at] != one && _text[_at] != other) _at++;
        return _text.Substring(from, _at - from);
    }

    private bool Take(char c)
    {
        if (_at >= _text.Length || _text[_at] != c) return false;
        _at++;
        return true;
    }
}
