namespace RigDaq.Daemon.Text;

/// <content>Groups compared from a table: the command, its options, the table of groups, and what is wrong with a row.</content>
internal static partial class TerminalText
{
    public const string CompareCommand = "Compares groups of strengths from a table, and says in words what the figures hold.";
    public const string CompareFile = "CSV with the columns material,condition,setting,strength_MPa and optionally print.";
    public const string CompareReference = "The condition that each other one is compared with; without it, all pairs.";
    public const string CompareMargin = "The margin of equivalence, in per cent of the reference mean.";
    public const string CompareConfidence = "The confidence of intervals, in per cent; tests use what is missing to 100.";

    public const string CompareMarginRange = "--margin: a percentage above 0 and below 100 was expected.";
    public const string CompareConfidenceRange = "--confidence: a percentage above 50 and below 100 was expected.";

    public const string CompareWithoutRows = "a header but no rows; at least one strength was expected.";
    public const string CompareStrengthBeyondAny = "far beyond any strength; MPa were expected.";
    public const string CompareStrengthNotAboveZero = "a strength is not above 0, which no broken specimen has";
    public const string ComparePrintOfSome = "the print is empty where other rows of the group name one; rows without a name count as one print";

    public const string CompareGroupHead = "group";
    public const string CompareCountHead = "n";
    public const string ComparePrintsHead = "prints";
    public const string CompareVariationHead = "CV %";
    public const string CompareNoFigure = "none";

    public static string CompareReferenceNotThere(string file, string reference, IEnumerable<string> conditions) =>
        $"{file}, column condition: no row has the reference “{reference}”; there are {string.Join(", ", conditions.Select(condition => $"“{condition}”"))}.";

    public static string CompareRowsTooMany(int rows, int rowsMax) => $"{rows} rows; at most {rowsMax} are compared.";

    public static string CompareGroupsTooMany(int groups, int groupsMax) => $"{groups} groups; at most {groupsMax} are compared. Is the setting different in every row?";

    public static string CompareEmptyName(string column) => $"the {column} is empty and counts as a name of its own";

    /// <param name="file">The file.</param>
    /// <param name="shown">The first of the lines.</param>
    /// <param name="more">How many there are beside them.</param>
    /// <param name="what">What is odd about them.</param>
    public static string CompareOddRows(string file, IReadOnlyList<int> shown, int more, string what) =>
        $"{file}, line{(shown.Count > 1 ? "s" : "")} {string.Join(", ", shown)}{(more > 0 ? $" and {more} more" : "")}: {what}.";

    public static string CompareMeanHead(string unit) => $"mean {unit}";

    public static string CompareIntervalHead(string percent) => $"{percent} % interval";

    public static string CompareInterval(string low, string high) => $"{low} to {high}";
}
