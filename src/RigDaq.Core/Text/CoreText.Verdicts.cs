using System.Globalization;

namespace RigDaq.Core.Text;

/// <content>Verdicts on two groups, fit to be published as they stand: which, how much, how sure, in what.</content>
internal static partial class CoreText
{
    public const string VerdictOfOnePrintEach = "This concerns the one print of each that was broken; other prints may differ.";
    public const string VerdictOfThesePrints = "This concerns the prints that were broken; other prints may differ.";

    public static string VerdictNotCompared(string place, string condition, string reference) =>
        $"{VerdictPlace(place)}{condition} and {reference} could not be compared: there is no scatter to judge the difference by.";

    /// <summary>The whole verdict.</summary>
    /// <param name="place">Material and setting; empty where there is neither.</param>
    /// <param name="statement">Which, how much, how sure.</param>
    /// <param name="scope">What it concerns, as a sentence.</param>
    public static string Verdict(string place, string statement, string scope) => $"{VerdictPlace(place)}{statement}. {scope}";

    public static string VerdictStronger(string condition, string reference, string amount) => $"{condition} is stronger than {reference} by {amount}";

    public static string VerdictWeaker(string condition, string reference, string amount) => $"{condition} is weaker than {reference} by {amount}";

    public static string VerdictWithinMargin(string margin) => $"; that is less than the margin of {margin} % stated beforehand";

    public static string VerdictEquivalent(string condition, string reference, string margin, string amount) =>
        $"{condition} is as strong as {reference} within ±{margin} %; the difference came out at {amount}";

    public static string VerdictNotResolved(string condition, string reference, string amount) =>
        $"no difference between {condition} and {reference} was resolved: it came out at {amount}";

    public static string VerdictAloneOnly(int comparisons) =>
        $", which would stand out alone but does not among {comparisons.ToString(CultureInfo.InvariantCulture)} comparisons";

    /// <summary>What would have been seen.</summary>
    /// <param name="difference">With its unit.</param>
    /// <param name="percent">The same in per cent of the reference mean; null where there is no sense in it.</param>
    public static string VerdictResolvable(string difference, string? percent) =>
        $"; a true difference of {difference}{(percent is null ? "" : $" ({percent} %)")} would have been seen four times out of five, taken alone";

    public static string VerdictMeasuredOn(int prints, int printsOfReference) =>
        string.Create(CultureInfo.InvariantCulture, $"Measured on {prints} and {printsOfReference} prints.");

    public static string VerdictAmount((string Value, string Low, string High) difference, string unit, string confidence) =>
        $"{difference.Value} {unit} ({difference.Low} to {difference.High} {unit}, {confidence} % interval)";

    public static string VerdictAmount(
        (string Value, string Low, string High) percent, (string Value, string Low, string High) difference, string unit, string confidence) =>
        $"{percent.Value} % ({percent.Low} to {percent.High} %, {confidence} % interval), that is {difference.Value} {unit} ({difference.Low} to {difference.High} {unit})";

    private static string VerdictPlace(string place) => place.Length == 0 ? "" : place + ": ";
}
