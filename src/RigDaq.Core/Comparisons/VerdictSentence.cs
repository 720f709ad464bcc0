using System.Globalization;
using RigDaq.Core.Quantities;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Core.Text;

namespace RigDaq.Core.Comparisons;

/// <summary>A verdict in words that may be published as it stands: which, how much, how sure, in what.</summary>
internal static class VerdictSentence
{
    public static string Of(Comparison c, int printsB, int printsA, double referenceMean, int comparisons, ComparisonOptions options)
    {
        string place = string
            .Join(", ", new[] { c.Material, GroupKey.SettingText(c.Setting, options.SettingUnit) }.Where(part => part.Length > 0));
        if (c.Low is not { } low || c.High is not { } high) return CoreText.VerdictNotCompared(place, c.Condition, c.Reference);

        string margin = NumberText.Of(options.MarginPercent, options.MarginPercent % 1 == 0 ? 0 : 1);
        string statement = c.Verdict switch
        {
            Verdicts.Different =>
                Different(c, Amount(c, low, high, options)) + (c.WithinMargin ? CoreText.VerdictWithinMargin(margin) : ""),
            Verdicts.Equivalent =>
                CoreText.VerdictEquivalent(c.Condition, c.Reference, margin, Amount(c, low, high, options, signed: true)),
            _ => CoreText.VerdictNotResolved(c.Condition, c.Reference, Amount(c, low, high, options, signed: true))
                + Unresolved(c, low, high, comparisons, options) + Could(c, referenceMean, options.Units.Stress),
        };
        return CoreText.Verdict(place, statement, Scope(c, printsB, printsA));
    }

    private static string Different(Comparison c, string amount) => c.Difference > 0
        ? CoreText.VerdictStronger(c.Condition, c.Reference, amount) : CoreText.VerdictWeaker(c.Condition, c.Reference, amount);

    private static string Amount(Comparison c, double low, double high, ComparisonOptions options, bool signed = false)
    {
        string confidence = options.ConfidencePercent.ToString("0.##", CultureInfo.InvariantCulture);
        bool flip = !signed && c.Difference < 0;
        Unit unit = options.Units.Stress;
        var difference = flip ? NumberText.Of(-unit.Of(c.Difference), -unit.Of(high), -unit.Of(low))
            : NumberText.Of(unit.Of(c.Difference), unit.Of(low), unit.Of(high));
        if (c.Percent is not { } percent || c.PercentLow is not { } percentLow || c.PercentHigh is not { } percentHigh)
            return CoreText.VerdictAmount(difference, unit.Symbol, confidence);
        var ofReference = flip ? NumberText.Of(-percent, -percentHigh, -percentLow) : NumberText.Of(percent, percentLow, percentHigh);
        return CoreText.VerdictAmount(ofReference, difference, unit.Symbol, confidence);
    }

    private static string Unresolved(Comparison c, double low, double high, int comparisons, ComparisonOptions options) =>
        c.P < options.Alpha && (low > 0 || high < 0) ? CoreText.VerdictAloneOnly(comparisons) : "";

    private static string Could(Comparison c, double referenceMean, Unit unit)
    {
        if (c.Resolvable is not { } resolvable) return "";
        double percent = 100 * resolvable / referenceMean, shown = unit.Of(resolvable);
        return CoreText.VerdictResolvable(
            $"{NumberText.Of(shown, NumberText.Decimals(shown))} {unit.Symbol}", referenceMean > 0 && double.IsFinite(percent)
                ? NumberText.Of(percent, NumberText.Decimals(percent)) : null);
    }

    private static string Scope(Comparison c, int printsB, int printsA)
    {
        if (c.Method == Methods.Prints) return CoreText.VerdictMeasuredOn(printsB, printsA);
        return printsA == 1 && printsB == 1 ? CoreText.VerdictOfOnePrintEach : CoreText.VerdictOfThesePrints;
    }
}
