using System.Globalization;
using System.Text.RegularExpressions;

namespace RigDaq.Core.Quantities;

/// <summary>
/// Sentences in the units a person chose. Warnings and reasons are written and kept in SI, once, beside the run; here their figures are
/// converted where they are shown, with as many digits as they had. What a person typed does not belong here.
/// </summary>
public static partial class UnitWords
{
    /// <summary>The sentence with every figure in N, MPa, mm and what is made of them in the chosen units.</summary>
    /// <param name="sentence">One of our own, in SI.</param>
    /// <param name="units">Chosen.</param>
    public static string In(string sentence, Units units)
    {
        if (units.Force.IsStored && units.Length.IsStored && units.Stress == Units.Megapascal) return sentence;
        return Quantity().Replace(sentence, match =>
        {
            Unit unit = UnitOf(match.Groups["unit"].Value, units);
            string second = match.Groups["second"].Success ? match.Groups["between"].Value + Converted(match.Groups["second"].Value, unit)
                : "";
            return Converted(match.Groups["first"].Value, unit) + second + match.Groups["space"].Value + unit.Symbol;
        });
    }

    /// <summary>Several of them.</summary>
    public static IReadOnlyList<string> In(IReadOnlyList<string> sentences, Units units)
        => [.. sentences.Select(sentence => In(sentence, units))];

    private static Unit UnitOf(string symbol, Units units) => symbol switch
    {
        "N" => units.Force,
        "N/s" => units.ForceRate,
        "N/mm" => units.Slope,
        "MPa" => units.Stress,
        "mm²" => units.Area,
        "mm/s" => units.Speed,
        "mm/N" => new Unit($"{units.Length.Symbol}/{units.Force.Symbol}", units.Length.Stored / units.Force.Stored),
        "µm/N" => units.Give,
        "µm" => units.SmallLength,
        _ => units.Length,
    };

    private static string Converted(string figure, Unit unit)
    {
        if (unit.IsStored) return figure;
        double value = unit.Of(double.Parse(figure.Replace('−', '-'), CultureInfo.InvariantCulture));
        string sign = figure[0] == '+' ? "+" : "";
        int exponent = figure.IndexOfAny(['e', 'E']);
        if (exponent >= 0)
        {
            int digits = figure[..exponent].Count(char.IsAsciiDigit);
            return sign + value.ToString("G" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture)
                .Replace('-', '−');
        }

        int point = figure.IndexOf('.', StringComparison.Ordinal);
        int decimals = unit.Decimals(point < 0 ? 0 : figure.Length - point - 1);
        // The figure was rounded once: a digit finer than it had would differ from the same quantity converted whole, elsewhere on the
        // page.
        if (value != 0 && Math.Floor(Math.Log10(Math.Abs(value))) + decimals >= EnoughDigits) decimals--;
        return sign + NumberText.Of(value, decimals);
    }

    /// <summary>So many digits stay in any case.</summary>
    private const int EnoughDigits = 4;

    [GeneratedRegex(@"(?<![\w.][-−+]?)(?<first>[-−+]?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?)(?:(?<between> (?:to|and) )(?<second>[-−+]?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?))?(?<space>[ \u00a0\u202f])(?<unit>N/mm|N/s|N|MPa|mm²|mm/s|mm/N|mm|µm/N|µm)(?![\w/²³·^])(?! per count)")]
    private static partial Regex Quantity();
}
