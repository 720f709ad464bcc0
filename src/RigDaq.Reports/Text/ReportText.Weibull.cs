using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;

namespace RigDaq.Reports.Text;

/// <content>Weibull plots, prints and the plan.</content>
internal static partial class ReportText
{
    public const string BrokenShareAxis = "broken in %";
    public const string WeibullNote = "on a line: Weibull · points: median ranks";
    public const string PrintsCaption = "How the prints came to be";

    public static string StrengthLogAxis(Units units) => $"tensile strength in {units.Stress.Symbol} (logarithmic)";

    public static string WeibullTitle(string place) => $"{place}: Weibull plot";

    public static string WeibullLegend(string condition, WeibullFit fit, Units units)
    {
        string modulus = fit is { ModulusLow: { } low, ModulusHigh: { } high } ? MeanWithInterval(fit.Modulus, low, high) : Number(fit.Modulus, 0);
        string censored = fit.Censored > 0 ? $" + {fit.Censored} failed in a grip" : "";
        return $"{(condition.Length == 0 ? "all" : condition)}: modulus {modulus}, {Characteristic(fit, units.Stress)}, n = {fit.Failures}{censored}";
    }

    private static string Characteristic(WeibullFit fit, Unit unit) => fit is { CharacteristicLowMegapascals: { } low, CharacteristicHighMegapascals: { } high }
        ? $"{NumberText.Of(unit.Of(fit.CharacteristicMegapascals), unit.Of(low), unit.Of(high)).Value} {unit.Symbol}"
        : unit.Text(fit.CharacteristicMegapascals, 1);

    public static string Share(double share) => Number(100 * share, share == 0.632 ? 1 : 0);

    public static string PlanWords(Study study) => study.PlanFrozenAt is { } at
        ? $"comparisons, margin and reference were frozen on {Moment(at)}"
        : "not frozen before breaking: comparisons that were chosen afterwards prove less";

    public static string ImportedWords(int count) => $"{count} strengths joined from tables, without a trace";

    public static string StorageWords(StorageSpell spell)
    {
        var parts = new List<string> { spell.Place };
        if (spell.Hours is { } hours) parts.Add($"{Number(hours)} h");
        if (spell.TemperatureCelsius is { } temperature) parts.Add($"{Number(temperature)} °C");
        if (spell.RelativeHumidityPercent is { } humidity) parts.Add($"{Number(humidity)} % relative humidity");
        return string.Join(" ", parts.Where(part => part.Length > 0));
    }

    public static string DryingWords(DryingSpell spell)
    {
        var parts = new List<string>();
        if (spell.Hours is { } hours) parts.Add($"{Number(hours)} h");
        if (spell.MeasuredTemperatureCelsius is { } measured) parts.Add($"{Number(measured)} °C measured");
        else if (spell.SetTemperatureCelsius is { } set) parts.Add($"{Number(set)} °C as set");
        if (spell.UptakePercent is { } uptake) parts.Add($"{Number(uptake, 2)} % of the dry mass lost");
        return string.Join(", ", parts);
    }
}
