using System.Globalization;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;

namespace RigDaq.Core.Statistics;

/// <summary>A verdict in words that may be published as it stands: which, how much, how sure, in what.</summary>
internal static class VerdictSentence
{
    public static string Of(Comparison c, int printsB, int printsA, double referenceMean, int comparisons, ComparisonOptions options)
    {
        string place = string.Join(", ", new[] { c.Material, GroupKey.SettingText(c.Setting, options.SettingUnit) }.Where(part => part.Length > 0));
        string head = place.Length == 0 ? "" : place + ": ";
        if (c.Low is not { } low || c.High is not { } high)
            return $"{head}{c.Condition} and {c.Reference} could not be compared: there is no scatter to judge the difference by.";

        string margin = NumberText.Of(options.MarginPercent, options.MarginPercent % 1 == 0 ? 0 : 1);
        string sentence = c.Verdict switch
        {
            Verdicts.Different => $"{c.Condition} is {(c.Difference > 0 ? "stronger" : "weaker")} than {c.Reference} by {Amount(c, low, high, options)}"
                + (c.WithinMargin ? $"; that is less than the margin of {margin} % stated beforehand" : ""),
            Verdicts.Equivalent => $"{c.Condition} is as strong as {c.Reference} within ±{margin} %; the difference came out at {Amount(c, low, high, options, signed: true)}",
            _ => $"no difference between {c.Condition} and {c.Reference} was resolved: it came out at {Amount(c, low, high, options, signed: true)}"
                + Unresolved(c, low, high, comparisons, options) + Could(c, referenceMean, options.Units.Stress),
        };
        return $"{head}{sentence}. {Scope(c, printsB, printsA)}";
    }

    private static string Amount(Comparison c, double low, double high, ComparisonOptions options, bool signed = false)
    {
        string confidence = options.ConfidencePercent.ToString("0.##", CultureInfo.InvariantCulture);
        bool flip = !signed && c.Difference < 0;
        Unit unit = options.Units.Stress;
        (string value, string from, string to) = flip
            ? NumberText.Of(-unit.Of(c.Difference), -unit.Of(high), -unit.Of(low))
            : NumberText.Of(unit.Of(c.Difference), unit.Of(low), unit.Of(high));
        string absolute = $"{value} {unit.Symbol} ({from} to {to} {unit.Symbol}";
        if (c.Percent is not { } percent || c.PercentLow is not { } percentLow || c.PercentHigh is not { } percentHigh)
            return $"{absolute}, {confidence} % interval)";
        (value, from, to) = flip ? NumberText.Of(-percent, -percentHigh, -percentLow) : NumberText.Of(percent, percentLow, percentHigh);
        return $"{value} % ({from} to {to} %, {confidence} % interval), that is {absolute})";
    }

    private static string Unresolved(Comparison c, double low, double high, int comparisons, ComparisonOptions options) =>
        c.P < options.Alpha && (low > 0 || high < 0)
            ? $", which would stand out alone but does not among {comparisons.ToString(CultureInfo.InvariantCulture)} comparisons" : "";

    private static string Could(Comparison c, double referenceMean, Unit unit)
    {
        if (c.Resolvable is not { } resolvable) return "";
        string percent = referenceMean > 0 ? $" ({NumberText.Of(100 * resolvable / referenceMean, NumberText.Decimals(100 * resolvable / referenceMean))} %)" : "";
        return $"; a true difference of {NumberText.Of(unit.Of(resolvable), NumberText.Decimals(unit.Of(resolvable)))} {unit.Symbol}{percent} would have been seen four times out of five, taken alone";
    }

    private static string Scope(Comparison c, int printsB, int printsA)
    {
        if (c.Method == Methods.Prints)
            return string.Create(CultureInfo.InvariantCulture, $"Measured on {printsB} and {printsA} prints.");
        return printsA == 1 && printsB == 1
            ? "This concerns the one print of each that was broken; other prints may differ."
            : "This concerns the prints that were broken; other prints may differ.";
    }
}
