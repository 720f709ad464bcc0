using System.Globalization;

namespace RigDaq.App.Text;

/// <content>What is wrong with a configuration. Keys and the words that they take are no texts, and stand here only inside sentences.</content>
internal static partial class AppText
{
    public const string ConfigFileNotThere = "there is no such configuration file.";
    public const string ConfigNotObject = "a JSON object was expected.";

    public const string ConfigName = "1 to 32 small letters, digits and hyphens";
    public const string ConfigBroker = "embedded, external or off";
    public const string ConfigHost = "a name or an address";
    public const string ConfigSpeaks = "wire, lines or queries";
    public const string ConfigDevice = "a name";
    public const string ConfigSeparator = "comma, semicolon, tab, blank or one character";
    public const string ConfigQuantity = "counts, grams, kilograms or newtons";
    public const string ConfigTimeUnit = "seconds, milliseconds or microseconds";
    public const string ConfigLineEnding = "lf, crlf or cr";
    public const string ConfigBelowForceLimit = "less than pull.forceLimitNewtons";

    public static string ConfigNotJson(string file, long? line, long? column) => $"{file}, line {line}, column {column}: not valid JSON.";

    public static string ConfigKeyTwice(string file, int line, string key, int lineBefore) =>
        string.Create(CultureInfo.InvariantCulture, $"{file}, line {line}: the key {key} stands there twice (first in line {lineBefore}); keep one of them.");

    public static string ConfigWrongKind(string source, string key) => $"{source}, key {key}: the value is of the wrong kind.";

    public static string ConfigKeyTooDeep(string variable) => $"the environment: {variable} goes deeper than there are keys.";

    public static string ConfigNotPlain(string key, string shown) => $"the key {key} holds control characters, written out here: “{shown}”.";

    public static string ConfigKeyNotKnown(string source, string key, string nearest) =>
        string.Create(CultureInfo.InvariantCulture, $"{source}: the key {key} is not known; did you mean {nearest}?");

    public static string ConfigNotAllowed(string source, string key, string value, string expected) => $"{source}, key {key}: “{value}” is not allowed; expected {expected}.";

    public static string ConfigProblems(string source, string key, IEnumerable<string> problems) => $"{source}, key {key}: {string.Join("; ", problems)}.";

    public static string ConfigProblem(string source, string problem) => $"{source}: {problem}";

    public static string ConfigTopicRoot(int levelsMax) => $"1 to {levelsMax} levels of letters, digits, dots, hyphens or underscores, with a slash between them";

    public static string ConfigOneOf(IEnumerable<string> words) => string.Join(" or ", words);

    public static string ConfigAboveZero(double high) => string.Create(CultureInfo.InvariantCulture, $"above 0, at most {high}");
}
