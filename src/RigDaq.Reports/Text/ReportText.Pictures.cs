using System.Globalization;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Questions;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Trace;
using RigDaq.Core.Uncertainty;

namespace RigDaq.Reports.Text;

/// <content>Pictures: questions over all settings, one trace, Weibull plots.</content>
internal static partial class ReportText
{
    // Pictures that answer questions over all materials and settings.

    public static string NotPrintedNote(string material, string setting) => NotPrintedNoteText(setting.Length > 0, material, setting);

    public static string WholeSignedPercent(double percent) => Plus(Number(percent, 0));

    public static string StrengthByConditionTitle(string settingName) => StrengthByConditionTitleText(settingName.Length > 0, settingName);

    /// <summary>Counts one below the other, where they do not stand side by side.</summary>
    public static string CountsStacked(string counts) => counts.Replace(" | ", "\n", StringComparison.Ordinal);

    public static string CountsBare(string counts) => counts.Replace("n = ", "", StringComparison.Ordinal);

    public static string ChangeBySettingNote(double confidencePercent, double marginPercent) =>
        ChangeBySettingNoteText(Number(confidencePercent), Number(marginPercent));

    public static string RetainedSeries(string material, string condition, int n) =>
        RetainedSeriesText(condition.Length > 0, material, condition, n);

    public static string LinesDescription(IReadOnlyList<(string Name,
        IEnumerable<(string Setting, double Percent, double Low, double High)> Points)> series, string unit) =>
        string.Join("; ",
            series.Select(one => $"{one.Name}: "
            + string.Join(", ",
            one.Points.Select(p => LinesDescriptionPartText(MeanWithInterval(p.Percent, p.Low, p.High), p.Setting, unit.Length > 0,
            unit))))) + ".";

    public static string MannerDescription(IReadOnlyList<(GroupKey Group, IReadOnlyList<(string Manner, int Count)> Shares,
        int Total)> rows, string unit) => string.Join("; ", rows.Select(row =>
        MannerDescriptionPartText(row.Group.Describe(unit), row.Shares.Where(s => s.Count > 0).Select(s => $"{s.Count} {Manner(s.Manner)}"),
            row.Total))) + ".";

    public static string BeatsTitle(string place) => BeatsTitleText(place.Length > 0, place);

    public static string BeatsNote(double confidencePercent) => BeatsNoteText(Number(confidencePercent));

    public static string BeatsFigure(double percent, double low, double high)
    {
        var (value, from, to) = NumberText.Of(percent, low, high);
        return BeatsFigureText(Plus(value), Plus(from), Plus(to));
    }

    public static string BeatsDescription(IReadOnlyList<QuestionAnswer> rows)
        =>
        string.Join("; ",
        rows.Select(a => BeatsDescriptionPartText(a.Material, a.AgainstMaterial,
        BeatsFigure(a.Percent!.Value, a.PercentLow!.Value, a.PercentHigh!.Value).Replace('\n', ' ')))) + ".";

    // The words on the picture of one trace.

    public static string TraceTitle(string name, string ending) => $"{name}: {ending}";

    public static string TraceDescription(string name, TraceReading reading, Units units)
    {
        string peak = reading.PeakForceNewtons is { } newtons ? TraceDescriptionText(Peak(newtons, reading, units)) : "";
        return TraceDescriptionOfTime(name, reading.Ending.Spoken(), peak);
    }

    public static string PeakMark(double newtons, TraceReading reading, Units units) => PeakMarkText(Peak(newtons, reading, units));

    public static string BreakMark(double newtons, Units units) => BreakMarkText(units.Force.Text(newtons, 1));

    private static string Peak(double newtons, TraceReading reading, Units units) =>
        units.Force.Text(newtons, PeakForceUncertainty.ExpandedNewtons(reading), 1);

    // Weibull plots, prints and the plan.

    public static string StrengthLogAxis(Units units) => StrengthLogAxisText(units.Stress.Symbol);

    public static string WeibullLegend(string condition, WeibullFit fit, Units units)
    {
        string modulus = fit is { ModulusLow: { } low, ModulusHigh: { } high } ? MeanWithInterval(fit.Modulus, low, high)
            : Number(fit.Modulus, 0);
        string censored = fit.Censored > 0 ? WeibullLegendText(fit.Censored) : "";
        return WeibullLegendWithCondition(condition.Length > 0, condition, modulus, Characteristic(fit, units.Stress), fit.Failures,
            censored);
    }

    private static string Characteristic(WeibullFit fit, Unit unit)
        => fit is { CharacteristicLowMegapascals: { } low, CharacteristicHighMegapascals: { } high }
        ? $"{NumberText.Of(unit.Of(fit.CharacteristicMegapascals), unit.Of(low), unit.Of(high)).Value} {unit.Symbol}"
        : unit.Text(fit.CharacteristicMegapascals, 1);

    public static string Share(double share) => Number(100 * share, share == 0.632 ? 1 : 0);

    public static string PlanWords(Study study) => study.PlanFrozenAt is { } at ? PlanWordsText(Moment(at)) : PlanNotFrozen;

    public static string StorageWords(StorageSpell spell)
    {
        var parts = new List<string> { spell.Place };
        if (spell.Hours is { } hours) parts.Add(StorageWordsText(Number(hours)));
        if (spell.TemperatureCelsius is { } temperature) parts.Add(StorageAtCelsius(Number(temperature)));
        if (spell.RelativeHumidityPercent is { } humidity) parts.Add(StorageAtHumidity(Number(humidity)));
        return string.Join(" ", parts.Where(part => part.Length > 0));
    }

    public static string DryingWords(DryingSpell spell)
    {
        var parts = new List<string>();
        if (spell.Hours is { } hours) parts.Add(DryingWordsText(Number(hours)));
        if (spell.MeasuredTemperatureCelsius is { } measured) parts.Add(DryingMeasured(Number(measured)));
        else if (spell.SetTemperatureCelsius is { } set) parts.Add(DryingAsSet(Number(set)));
        if (spell.UptakePercent is { } uptake) parts.Add(DryingMassLost(Number(uptake, 2)));
        return string.Join(", ", parts);
    }

    public static string StrengthAxis(Units units) => StrengthAxisText(units.Stress.Symbol);

    public static string StrengthNote(double confidencePercent) =>
        StrengthNoteText(Number(confidencePercent));

    public static string StrengthDescription(IReadOnlyList<GroupStatistics> groups, string unit, double confidencePercent, Units units) =>
        StrengthDescriptionText(groups.Select(group =>
        {
            string place = new GroupKey(group.Material, group.Condition, group.Setting).Describe(unit);
            return group is { Low: { } low, High: { } high }
                ? StrengthDescriptionPartText(place,
                    MeanWithInterval(units.Stress.Of(group.Mean), units.Stress.Of(low), units.Stress.Of(high)), units.Stress.Symbol,
                    group.N)
                : StrengthOfGroup(place, units.Stress.Text(group.Mean, 1), group.N);
        }), Number(confidencePercent));

    public static string ChangeTitle(IReadOnlyList<Comparison> rows)
    {
        string[] pairs = [.. rows.Select(row => ChangeTitleText(row.Condition, row.Reference)).Distinct()];
        return pairs.Length == 1 ? ChangeTitleOfPair(pairs[0]) : ChangeTitleOfSeveral;
    }

    public static string ChangeNote(double confidencePercent, double marginPercent) =>
        ChangeNoteText(Number(confidencePercent), Number(marginPercent));

    public static string ChangeRow(string place, string condition, string reference, int? n, int? referenceN)
    {
        string pair = ChangeRowText(condition, reference, n, referenceN);
        return place.Length == 0 ? pair : $"{place}\n{pair}";
    }

    public static string Verdict(Comparison row) => row.Verdict switch
    {
        Verdicts.Different => VerdictDifferentText,
        Verdicts.Equivalent => VerdictEquivalentText,
        _ => VerdictOtherwiseText,
    };

    public static string ChangeFigure(Comparison row)
    {
        var (value, low, high) = NumberText.Of(row.Percent!.Value, row.PercentLow!.Value, row.PercentHigh!.Value);
        return ChangeFigureText(Plus(value), Plus(low), Plus(high), Verdict(row));
    }

    public static string ChangeDescription(IReadOnlyList<Comparison> rows, string unit, double confidencePercent) =>
        ChangeDescriptionText(rows.Select(row =>
        {
            var (value, low, high) = NumberText.Of(row.Percent!.Value, row.PercentLow!.Value, row.PercentHigh!.Value);
            string place = string
                .Join(", ", new[] { row.Material, GroupKey.SettingText(row.Setting, unit) }.Where(part => part.Length > 0));
            return ChangeDescriptionPartText(place, row.Condition, row.Reference, Plus(value), Plus(low), Plus(high), Verdict(row));
        }), Number(confidencePercent));

    /// <summary>"+10", "0", "−10".</summary>
    public static string SignedPercent(double value) => Math.Abs(value) < 1e-9 ? "0" : Plus(NumberText.Of(value, value % 1 == 0 ? 0 : 1));

    /// <summary>"31.4 (30.2 to 32.6)".</summary>
    public static string MeanWithInterval(double mean, double low, double high)
    {
        var (value, from, to) = NumberText.Of(mean, low, high);
        return MeanWithIntervalText(value, from, to);
    }

    /// <summary>With a plus where nothing else stands.</summary>
    public static string Plus(string number) => number.StartsWith('−') || number.All(c => c is '0' or '.') ? number : "+" + number;

    /// <summary>Without needless digits.</summary>
    public static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture).Replace('-', '−');

    /// <summary>With so many decimals.</summary>
    public static string Number(double value, int decimals) => NumberText.Of(value, decimals);
}
