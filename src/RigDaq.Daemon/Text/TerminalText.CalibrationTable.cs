namespace RigDaq.Daemon.Text;

/// <content>Readings at known forces and weights from a CSV file: what is wrong with a row.</content>
internal static partial class TerminalText
{
    public const string TableUncertaintyOfSome = "empty, though other rows state it; state it for every reference above 0, or for none.";
    public const string TableWithoutReadings = "no readings below the header.";
    public const string TableWithoutSeries = "empty; the series' name was expected.";
    public const string WeightsNone = "no weights below the header.";

    public static string TableSignRefused(string refusal) => $"{refusal} To agree, add --turn-sign.";

    public static string TableColumnRefused(string column, string refusal) => $"column {column}: {refusal}";

    public static string TableReferenceBelowZero(string typed) => $"“{typed}” is below 0; a reference force is 0 (a zero) or above.";

    public static string TableDirectionNotKnown(string typed) => $"“{typed}” is neither rising nor falling.";

    public static string TableBelowZero(string typed) => $"“{typed}” is below 0; 0 or above was expected.";

    public static string WeightsSetNotThere(string set, IReadOnlyList<string> kept) =>
        $"{set}: neither a file nor a kept set{(kept.Count > 0 ? $" (kept: {string.Join(", ", kept)})" : "; none is kept yet")}.";

    public static string WeightsTwice(string weight) => $"“{weight}” stands there twice; two pieces need two names.";

    public static string WeightsKnownByOne(string classColumn, string certificateColumn, string plusMinusColumn) =>
        $"state how well the mass is known by exactly one of {classColumn}, {certificateColumn} or {plusMinusColumn}.";

    public static string WeightsClassNotKnown(string typed, IEnumerable<string> classes) => $"“{typed}” is none of {string.Join(", ", classes)}.";
}
