using System.Text;

namespace RigDaq.Text.Generator;

/// <summary>A text of a resource, understood.</summary>
internal sealed class Text
{
    /// <summary>Makes one.</summary>
    public Text(Signature signature, Template template, ResourceText resource)
    {
        Signature = signature;
        Template = template;
        Resource = resource;
    }

    /// <summary>Its name and parameters.</summary>
    public Signature Signature { get; }

    /// <summary>What it says.</summary>
    public Template Template { get; }

    /// <summary>Where it stands.</summary>
    public ResourceText Resource { get; }

    /// <summary>What is wrong with it: places that nobody fills, parameters that nothing says.</summary>
    public IEnumerable<string> Faults(IReadOnlyDictionary<string, Text> texts)
    {
        var said = new HashSet<string>();
        foreach (string fault in Said(texts, said, 0)) yield return fault;
        foreach (string name in said.Where(name => Signature.Parameters.All(each => each.Key != name))) yield return
            $"nothing is given for {{{name}}}";
        foreach (KeyValuePair<string, string> each in Signature.Parameters.Where(each => !said.Contains(each.Key))) yield return
            $"{each.Key} is not said";
    }

    /// <summary>The member.</summary>
    /// <param name="code">Where it goes.</param>
    /// <param name="texts">All of the room.</param>
    /// <param name="travel">Whether they are said elsewhere than where they are made.</param>
    public void Write(StringBuilder code, IReadOnlyDictionary<string, Text> texts, bool travel)
    {
        string words = Resource.Value.Replace("&", "&amp;").Replace("<", "&lt;").Replace("\n", " ").Replace("\r", " ");
        bool isSentence = travel || IsSentence(texts, 0);
        string type = isSentence ? "global::RigDaq.Text.Sentence" : "string";
        string method = isSentence ? "Sentence" : "Say";
        string parameters = string.Join(", ", Signature.Parameters.Select(each => $"{each.Value} @{each.Key}"));
        string arguments = string.Concat(Signature.Parameters.Select(each => $", (\"{each.Key}\", @{each.Key})"));
        code.Append($"\n    /// <summary>{words}</summary>\n    internal static {type} {Signature.Member}");
        if (parameters.Length > 0) code.Append('(').Append(parameters).Append(')');
        code.Append($" => Table.{method}(\"{Signature.Name}\"{arguments});\n");
    }

    // So deep may texts name one another: a circle ends there.
    private const int DepthMax = 8;

    private bool IsSentence(IReadOnlyDictionary<string, Text> texts, int depth) =>
        Signature.Parameters.Any(each => each.Value.Contains("RigDaq.Text.Sentence"))
        || Template.All().Any(part => part.Kind is PartKind.Quantity or PartKind.Figure or PartKind.Unit
            || (part.Kind == PartKind.Other && depth < DepthMax && Of(texts, part.Name)?.IsSentence(texts, depth + 1) == true));

    private IEnumerable<string> Said(IReadOnlyDictionary<string, Text> texts, HashSet<string> said, int depth)
    {
        foreach (Part part in Template.All())
        {
            if (part.Kind == PartKind.Other)
            {
                if (depth == DepthMax) yield return "texts that name one another go round";
                else if (Of(texts, part.Name) is not { } other) yield return $"there is no text {part.Name}";
                else foreach (string fault in other.Said(texts, said, depth + 1)) yield return fault;
            }
            else if (part.Kind is not (PartKind.Words or PartKind.Count or PartKind.Unit) && !char.IsDigit(part.Name[0]))
            {
                said.Add(part.Name);
            }
        }
    }

    private static Text? Of(IReadOnlyDictionary<string, Text> texts, string name) =>
        texts.TryGetValue(char.ToUpperInvariant(name[0]) + name.Substring(1), out Text? text) ? text : null;
}
