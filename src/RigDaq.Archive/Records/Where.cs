using LiteDB;

namespace RigDaq.Archive.Records;

/// <summary>
/// Conditions whose value is handed over beside the text. LiteDB compiles each text that it has not seen and keeps what it
/// compiled for as long as the process lives: with the value in the text (as its <see cref="Query"/> writes it) each id that
/// anybody asks for, also one that there is not, would take memory for ever.
/// </summary>
internal static class Where
{
    /// <summary>The field has this value.</summary>
    public static BsonExpression Is(string field, string value) => BsonExpression.Create(field + " = @0", value);

    /// <summary>The field's text stands from one to before another in the order of texts.</summary>
    public static BsonExpression Between(string field, string from, string to) =>
        BsonExpression.Create($"{field} >= @0 AND {field} < @1", from, to);

    /// <summary>The field's text begins so.</summary>
    public static BsonExpression Begins(string field, string start) => BsonExpression.Create(field + " LIKE @0", start + "%");
}
