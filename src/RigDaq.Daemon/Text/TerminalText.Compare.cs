using System.Globalization;
namespace RigDaq.Daemon.Text;

/// <content>Groups compared from a table: the command, its options, the table of groups, and what is wrong with a row.</content>
internal static partial class TerminalText
{
    public const string CompareCommand = "Compares groups of strengths from a table, and says in words what the figures hold.";
    public const string CompareFile = "CSV with the columns material,condition,setting,strength_MPa and optionally print,manner,location,outcome,reason.";
    public const string CompareReference = "The condition that each other one is compared with; without it, all pairs.";
    public const string CompareMargin = "The margin of equivalence, in per cent of the reference mean.";
    public const string CompareConfidence = "The confidence of intervals, in per cent; tests use what is missing to 100.";

    public const string CompareReferenceMaterial = "The material that each other one is compared with, adjusted by Dunnett; without it, all pairs, adjusted by Holm.";
    public const string CompareReferenceSetting = "The setting that drop-offs are relative to; without it, each material's lowest.";
    public const string CompareKeeps = "How many per cent of the reference setting's strength are to be kept.";
    public const string ComparePrintScatter = "The scatter between prints made alike, in per cent, where it is known; it goes before what the table shows.";
    public const string CompareStretchScatter = "The scatter of a stretch beyond its print, in per cent, where it is known; it goes before what the table shows.";
    public const string CompareSeparatePrints = "The same print name at several settings stands for several prints.";
    public const string CompareEarlier = "A table of an earlier study to set the groups against; may be given several times.";
    public const string CompareCalibration = "The standard uncertainty of this table's calibration, in per cent of strength (for --earlier).";
    public const string CompareEarlierCalibration = "The same of the earlier tables.";
    public const string CompareControl = "Whether a control piece was pulled then and now: yes, no, or the group that it is (\"Kept, fan off, 220\"), whose change is then taken off (for --earlier).";
    public const string CompareNoEarlierScatter = "Do not take the scatter between prints from the earlier tables where this one has one print of each.";

    public static string CompareQuestions(IEnumerable<string> questions) =>
        $"Which questions to answer, separated by commas, or all; without it, all that the table allows. There are: {string.Join(", ", questions)}.";

    public static string CompareQuestionUnknown(string asked, IEnumerable<string> questions) =>
        $"--questions: there is no question “{asked}”; there are {string.Join(", ", questions)}.";

    public static string CompareScatterOfEarlier(string percent, double degrees) => string.Create(
        CultureInfo.InvariantCulture, $"Scatter between prints by the earlier studies: {percent} % ({degrees:0} degrees of freedom); --no-earlier-scatter leaves it out.");

    public static string CompareImportedUnknown(string word) => $"true, false or nothing was expected, not “{word}”.";

    public static string CompareTriesExpected(string typed, int triesMax) => string.Create(
        CultureInfo.InvariantCulture, $"“{typed}”; a whole number of prints from 1 to {triesMax}, or an empty cell, was expected.");

    public static string ComparePercentRange(string option) => $"{option}: a percentage from 0 to 1000 was expected.";

    public const string CompareKeepsRange = "--keeps: a percentage above 0 and below 100 was expected.";
    public const string CompareWithoutStrengths = "no row has a strength; at least one was expected.";
    public const string CompareFailedWithStrength = "what could not be printed has no strength; leave this empty.";

    public static string CompareOutcomeUnknown(string typed, string failed) => $"“{typed}”; “broken”, “{failed}” or an empty cell was expected.";

    public static string ComparePrintsOverSettings(IReadOnlyList<string> names, int more) =>
        $"The same print name stands at several settings ({Listed(names, more)}): it is taken for one print with a stretch at each; --separate-prints if they were several.";

    public static string ComparePrintsOverConditions(IReadOnlyList<string> names, int more) =>
        $"The same print name stands in several materials or conditions ({Listed(names, more)}): these are taken for different prints.";

    /// <summary>The scatter that the model found.</summary>
    /// <param name="print">Between prints, in per cent; null where it is not known.</param>
    /// <param name="stretch">Of stretches, in per cent; null where it is not known.</param>
    /// <param name="specimen">Of specimens, in per cent.</param>
    /// <param name="prints">How many prints.</param>
    public static string CompareScatter(string? print, string? stretch, string specimen, int prints) =>
        $"Scatter (standard deviations, {prints} prints): between prints {Known(print)}, of a stretch within its print {Known(stretch)}, of specimens within a stretch {specimen} %.";

    public static string CompareQuestionHead(string question) => question switch
    {
        "condition" => "Conditions compared, setting by setting",
        "condition average" => "Conditions compared, averaged over settings",
        "condition trend" => "Does the effect change with the setting?",
        "material" => "Materials compared, setting by setting",
        "material average" => "Materials compared, averaged over settings",
        "drop-off" => "Strength against the reference setting",
        "drop-off difference" => "Which drops off faster?",
        "keeps" => "How far does the strength hold?",
        "best settings" => "Which setting is strongest?",
        "equivalence profile" => "No difference at any setting?",
        "earlier study" => "As in an earlier study?",
        "share" => "How did specimens break?",
        "not printable" => "What could not be printed",
        _ => question,
    };

    private static string Known(string? percent) => percent is null ? "not known" : $"{percent} %";

    private static string Listed(IReadOnlyList<string> names, int more) =>
        string.Join(", ", names.Select(name => $"“{name}”")) + (more > 0 ? $" and {more} more" : "");

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

    public static string CompareReferenceNotThere(string file, string column, string reference, IEnumerable<string> names) =>
        $"{file}, column {column}: no row has the reference “{reference}”; there are {string.Join(", ", names.Select(name => $"“{name}”"))}.";

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
