using System.Globalization;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Quantities;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;

namespace RigDaq.Reports.Text;

/// <summary>What pictures and reports say, in one place, so that it can be translated.</summary>
internal static partial class ReportText
{
    public const string ChangeAxis = "change of strength in per cent of the reference";
    public const string EvenlySpaced = " (evenly spaced, not to scale)";
    public const string SimulatedShort = "virtual rig: no measurement";
    public const string ExtrapolatedShort = "extrapolated";
    public const string ThesePrintsShort = "these prints only";

    public static string StrengthAxis(Units units) => $"tensile strength in {units.Stress.Symbol}";

    public static string StrengthTitle(string material, string settingName) => $"{material}: strength against {settingName}";

    public static string StrengthNote(double confidencePercent) =>
        $"large: mean with its {Number(confidencePercent)} % interval · faint: each specimen · ×: left out · n: specimens, below the settings";

    public static string StrengthDescription(IReadOnlyList<GroupStatistics> groups, string unit, double confidencePercent, Units units) =>
        string.Join("; ", groups.Select(group =>
        {
            string place = new GroupKey(group.Material, group.Condition, group.Setting).Describe(unit);
            return group is { Low: { } low, High: { } high }
                ? $"{place}: mean {MeanWithInterval(units.Stress.Of(group.Mean), units.Stress.Of(low), units.Stress.Of(high))} {units.Stress.Symbol}, n = {group.N}"
                : $"{place}: mean {units.Stress.Text(group.Mean, 1)}, n = {group.N}";
        })) + $". Intervals of {Number(confidencePercent)} %.";

    public static string ChangeTitle(IReadOnlyList<Comparison> rows)
    {
        string[] pairs = [.. rows.Select(row => $"{row.Condition} against {row.Reference}").Distinct()];
        return pairs.Length == 1 ? $"Change of strength: {pairs[0]}" : "Change of strength between conditions";
    }

    public static string ChangeNote(double confidencePercent, double marginPercent) =>
        $"bar: {Number(confidencePercent)} % interval, unadjusted · band: ±{Number(marginPercent)} %, the margin of equivalence";

    public static string ChangeRow(string place, string condition, string reference, int? n, int? referenceN)
    {
        string pair = $"{condition} − {reference}, n = {n} | {referenceN}";
        return place.Length == 0 ? pair : $"{place}\n{pair}";
    }

    public static string Verdict(Comparison row) => row.Verdict switch
    {
        Verdicts.Different => "different",
        Verdicts.Equivalent => "equivalent",
        _ => "not resolved",
    };

    public static string ChangeFigure(Comparison row)
    {
        var (value, low, high) = NumberText.Of(row.Percent!.Value, row.PercentLow!.Value, row.PercentHigh!.Value);
        return $"{Plus(value)} % ({Plus(low)} to {Plus(high)})\n{Verdict(row)}";
    }

    public static string ChangeDescription(IReadOnlyList<Comparison> rows, string unit, double confidencePercent) =>
        string.Join("; ", rows.Select(row =>
        {
            var (value, low, high) = NumberText.Of(row.Percent!.Value, row.PercentLow!.Value, row.PercentHigh!.Value);
            string place = string.Join(", ", new[] { row.Material, GroupKey.SettingText(row.Setting, unit) }.Where(part => part.Length > 0));
            return $"{place}: {row.Condition} against {row.Reference} {Plus(value)} % ({Plus(low)} to {Plus(high)} %), {Verdict(row)}";
        })) + $". Intervals of {Number(confidencePercent)} %.";

    /// <summary>"+10", "0", "−10".</summary>
    public static string SignedPercent(double value) => Math.Abs(value) < 1e-9 ? "0" : Plus(NumberText.Of(value, value % 1 == 0 ? 0 : 1));

    /// <summary>"31.4 (30.2 to 32.6)".</summary>
    public static string MeanWithInterval(double mean, double low, double high)
    {
        var (value, from, to) = NumberText.Of(mean, low, high);
        return $"{value} ({from} to {to})";
    }

    /// <summary>With a plus where nothing else stands.</summary>
    public static string Plus(string number) => number.StartsWith('−') || number.All(c => c is '0' or '.') ? number : "+" + number;

    /// <summary>Without needless digits.</summary>
    public static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture).Replace('-', '−');

    /// <summary>With so many decimals.</summary>
    public static string Number(double value, int decimals) => NumberText.Of(value, decimals);
}
