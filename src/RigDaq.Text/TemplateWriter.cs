using System.Globalization;
using System.Text;

namespace RigDaq.Text;

/// <summary>Fills a template's places.</summary>
internal sealed class TemplateWriter
{
    private readonly TextTable _table;
    private readonly (string Name, object? Value)[] _arguments;
    private readonly IUnitWriter _units;
    private readonly Language _language;
    private readonly StringBuilder _to;

    private TemplateWriter(TextTable table, (string Name, object? Value)[] arguments, IUnitWriter units, Language language)
    {
        _table = table;
        _arguments = arguments;
        _units = units;
        _language = language;
        _to = new StringBuilder();
    }

    internal static string Write(TextTable table, Template template, (string Name, object? Value)[] arguments, IUnitWriter units,
        Language language)
    {
        if (template.Parts is [{ Kind: PartKind.Words } only]) return only.Name;
        var writer = new TemplateWriter(table, arguments, units, language);
        writer.Write(template, null);
        return writer._to.ToString();
    }

    private void Write(Template template, object? count)
    {
        foreach (Part part in template.Parts) _to.Append(Text(part, count));
    }

    private string Text(Part part, object? count)
    {
        switch (part.Kind)
        {
            case PartKind.Words:
                return part.Name;
            case PartKind.Count:
                return Said(count);
            case PartKind.Unit:
                return _units.Unit(part.Quantity);
            case PartKind.Other:
                Write(_table.Find(part.Name, _language), count);
                return "";
            case PartKind.Plural or PartKind.Select:
                Write(Case(part), part.Kind == PartKind.Plural ? Value(part.Name) : count);
                return "";
            case PartKind.Number:
                return Value(part.Name) is IFormattable number ? number.ToString(part.Format, CultureInfo.InvariantCulture) : "";
            case PartKind.Figure or PartKind.Quantity:
                if (char.IsDigit(part.Name[0])) return Fixed(part);
                if (Value(part.Name) is not { } value) return part.Kind == PartKind.Figure ? "" : " " + _units.Unit(part.Quantity);
                string figure = _units.Figure(part.Quantity, Convert.ToDouble(value, CultureInfo.InvariantCulture), part.Format);
                return part.Kind == PartKind.Figure ? figure : $"{figure} {_units.Unit(part.Quantity)}";
            case PartKind.List:
                return List(part, [.. ((IEnumerable<object?>)Value(part.Name)!).Select(Said)]);
            default:
                return Said(Value(part.Name));
        }
    }

    private static string List(Part part, string[] names) => int.TryParse(part.Quantity, CultureInfo.InvariantCulture, out int most)
        && names.Length > most ? string.Join(part.Format, names.Take(most)) + part.Format + "…" : string.Join(part.Format, names);

    // As many digits as the text gives.
    private string Fixed(Part part)
    {
        int point = part.Name.IndexOf('.', StringComparison.Ordinal);
        string format = point < 0 ? "0" : "0." + new string('0', part.Name.Length - point - 1);
        string figure = _units.Figure(part.Quantity, double.Parse(part.Name, CultureInfo.InvariantCulture), format);
        return part.Kind == PartKind.Figure ? figure : $"{figure} {_units.Unit(part.Quantity)}";
    }

    // Of English: one is one. What else a language needs is its own rule, and goes here (CLDR, plural rules).
    private Template Case(Part part)
    {
        object? value = Value(part.Name);
        string name = part.Kind == PartKind.Plural ? Convert.ToDouble(value, CultureInfo.InvariantCulture) == 1 ? "one" : Template.Otherwise
            : value switch { null => "null", "" or Sentence { IsEmpty: true } => "empty", bool yes => yes ? "true" : "false", _ => value.ToString()! };
        return part.Cases.TryGetValue(name, out Template? chosen) ? chosen : part.Cases[Template.Otherwise];
    }

    private string Said(object? value) => value switch
    {
        null => "",
        Sentence sentence => sentence.In(_units, _language),
        IFormattable figure => figure.ToString(null, CultureInfo.InvariantCulture),
        _ => value.ToString() ?? "",
    };

    private object? Value(string name)
    {
        foreach ((string each, object? value) in _arguments)
        {
            if (each == name) return value;
        }

        throw new InvalidOperationException($"Nothing was given for {{{name}}}.");
    }
}
