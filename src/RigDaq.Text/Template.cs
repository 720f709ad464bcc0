namespace RigDaq.Text;

/// <summary>What stands at one place of a template.</summary>
public enum PartKind
{
    /// <summary>Words as they are.</summary>
    Words,

    /// <summary><c>{name}</c>: an argument as it is.</summary>
    Value,

    /// <summary><c>{name, number, 0.0}</c>: a figure in a format of .NET, with a decimal point in every language.</summary>
    Number,

    /// <summary><c>{name, force, 0.0}</c>: a figure that is kept in SI, and its unit; <c>{0.5, length}</c> where the text itself has the
    /// figure.</summary>
    Quantity,

    /// <summary><c>{name, force figure, 0.0}</c>: the figure alone.</summary>
    Figure,

    /// <summary><c>{, force unit}</c>: the unit alone.</summary>
    Unit,

    /// <summary><c>{name, list,; }</c>: several, with what is between them; <c>{name, list 30}</c>: the first thirty, with
    /// commas.</summary>
    List,

    /// <summary><c>{name, plural, one {…} other {…}}</c>.</summary>
    Plural,

    /// <summary><c>{name, select, true {…} other {…}}</c>; nothing is <c>null</c>, no words are <c>empty</c>.</summary>
    Select,

    /// <summary><c>#</c> in a plural: its number.</summary>
    Count,

    /// <summary><c>{@key}</c>: another text of the table, with the same arguments.</summary>
    Other,
}

/// <summary>One place of a template.</summary>
public sealed class Part
{
    private static readonly IReadOnlyDictionary<string, Template> NoCases = new Dictionary<string, Template>();

    /// <summary>Makes one.</summary>
    /// <param name="kind">What stands there.</param>
    /// <param name="name">The words, the argument's name or the other text's key.</param>
    /// <param name="format">Of figures: the format; of a list: what is between.</param>
    /// <param name="quantity">Of a quantity: which. Of a list: how many at most.</param>
    /// <param name="cases">Of a choice.</param>
    public Part(PartKind kind, string name, string format = "", string quantity = "", IReadOnlyDictionary<string, Template>? cases = null)
    {
        Kind = kind;
        Name = name;
        Format = format;
        Quantity = quantity;
        Cases = cases ?? NoCases;
    }

    /// <summary>What stands there.</summary>
    public PartKind Kind { get; }

    /// <summary>The words, the argument's name or the other text's key.</summary>
    public string Name { get; }

    /// <summary>Of figures: the format; of a list: what is between.</summary>
    public string Format { get; }

    /// <summary>Of a quantity: which. Of a list: how many at most.</summary>
    public string Quantity { get; }

    /// <summary>Of a choice: what is said in each case.</summary>
    public IReadOnlyDictionary<string, Template> Cases { get; }
}

/// <summary>A text with places to be filled in: a part of ICU's MessageFormat, which translators' tools know (unicode-org.github.io/icu,
/// "Formatting Messages"), with quantities added. An apostrophe is one, except before a brace: <c>'{'</c> is a brace.</summary>
public sealed class Template
{
    /// <summary>The case that holds where no other does; every choice has it.</summary>
    public const string Otherwise = "other";

    /// <summary>The quantities, with the unit that each is kept in.</summary>
    public static readonly IReadOnlyDictionary<string, string> Quantities = new Dictionary<string, string>
    {
        ["force"] = "N",
        ["stress"] = "MPa",
        ["length"] = "mm",
        ["area"] = "mm²",
        ["speed"] = "mm/s",
        ["rate"] = "N/s",
        ["slope"] = "N/mm",
        ["compliance"] = "mm/N",
        ["give"] = "µm/N",
        ["smallLength"] = "µm",
    };

    /// <summary>Makes one.</summary>
    /// <param name="parts">In their order.</param>
    public Template(IReadOnlyList<Part> parts) => Parts = parts;

    /// <summary>In their order.</summary>
    public IReadOnlyList<Part> Parts { get; }

    /// <summary>Every part, those in choices too.</summary>
    public IEnumerable<Part> All()
    {
        foreach (Part part in Parts)
        {
            yield return part;
            foreach (Template each in part.Cases.Values)
            {
                foreach (Part inner in each.All()) yield return inner;
            }
        }
    }
}
