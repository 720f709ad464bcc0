using System.Diagnostics.CodeAnalysis;
using System.Text.Json.Serialization;

namespace RigDaq.Text;

/// <summary>
/// What is to be said to a person, as a value: which text, and what goes into it. It travels as it is and is said at the edge, in the units
/// and the language of who reads it. In JSON it is its words, in English and SI; <see cref="SentenceValue"/> may stand beside them.
/// </summary>
[JsonConverter(typeof(SentenceConverter))]
public sealed class Sentence : IEquatable<Sentence>
{
    /// <summary>Nothing.</summary>
    public static readonly Sentence None = Verbatim("");

    private readonly TextTable? _table;
    private readonly (string Name, object? Value)[] _arguments;

    internal Sentence(TextTable? table, string code, (string Name, object? Value)[] arguments)
    {
        _table = table;
        Code = code;
        _arguments = arguments;
    }

    /// <summary>The text's key, which stays whatever the text says; empty where the words are somebody's own.</summary>
    public string Code { get; }

    /// <summary>Whether there is nothing to say.</summary>
    public bool IsEmpty => _table is null && ((string)_arguments[0].Value!).Length == 0;

    /// <summary>In the current language and the units that things are kept in.</summary>
    [return: NotNullIfNotNull(nameof(sentence))]
    public static implicit operator string?(Sentence? sentence) => sentence?.ToString();

    /// <summary>Words that are nobody's to translate or to convert: what a person typed, a system reported, or a file of before
    /// holds.</summary>
    public static Sentence Verbatim(string words) => new(null, "", [("", words)]);

    /// <summary>As a person reads it.</summary>
    /// <param name="units">Chosen.</param>
    public string In(IUnitWriter units) => In(units, Language.Current);

    /// <summary>As it is kept and published: in English and SI.</summary>
    public string AsKept() => In(SiWriter.Instance, Language.English);

    /// <inheritdoc />
    public override string ToString() => In(SiWriter.Instance, Language.Current);

    /// <summary>Two are the same that say the same.</summary>
    public bool Equals(Sentence? other)
        => ReferenceEquals(this, other) || (other is not null && Code == other.Code && AsKept() == other.AsKept());

    /// <inheritdoc />
    public override bool Equals(object? obj) => Equals(obj as Sentence);

    /// <inheritdoc />
    public override int GetHashCode() => Code.GetHashCode(StringComparison.Ordinal);

    internal TextTable? Table => _table;

    internal IReadOnlyList<(string Name, object? Value)> Arguments => _arguments;

    internal string In(IUnitWriter units, Language language) => _table is null ? (string)_arguments[0].Value!
        : TemplateWriter.Write(_table, _table.Find(Code, language), _arguments, units, language);
}
