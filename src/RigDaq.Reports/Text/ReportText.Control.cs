using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;

namespace RigDaq.Reports.Text;

/// <content>Retained strength and the check weight.</content>
internal static partial class ReportText
{
    public const string RetainedAxis = "strength in % of that at the reference setting";
    public const string ControlTitle = "The check weight: control chart";
    public const string ControlAverage = "moving average (EWMA)";
    public const string ControlOutside = "outside";
    public const string ControlNote = "dashed: limits of single readings · dotted: limits of the average";

    public static string RetainedTitle(string material, Study study) => $"{material}: strength retained across {study.SettingName}";

    public static string RetainedNote(double confidencePercent) => $"bar: {Number(confidencePercent)} % interval · line: 100 %, the reference setting";

    public static string RetainedLegend(SettingSeries series, ComparisonAnswer answer, string unit)
    {
        string[] counts = [.. answer.Groups.Where(group => group.Material == series.Material && group.Condition == series.Condition && group.Setting is not null)
            .OrderBy(group => group.Setting).Select(group => Number(group.N))];
        string name = series.Condition.Length == 0 ? "all" : series.Condition;
        return $"{name}, reference {GroupKey.SettingText(series.ReferenceSetting, unit)}, n = {string.Join(" | ", counts)}";
    }

    public static string RetainedDescription(IReadOnlyList<SettingSeries> shown, string unit, double confidencePercent) =>
        string.Join("; ", shown.SelectMany(series => series.Retained.Where(point => point is { Percent: not null, PercentLow: not null, PercentHigh: not null })
            .Select(point => $"{series.Condition} at {GroupKey.SettingText(point.Setting, unit)}: " +
                $"{MeanWithInterval(point.Percent!.Value, point.PercentLow!.Value, point.PercentHigh!.Value)} % of that at {GroupKey.SettingText(series.ReferenceSetting, unit)}"))) +
        $". Intervals of {Number(confidencePercent)} %.";

    public static string ControlAxis(DateTimeOffset first, DateTimeOffset last) => $"reading, {Day(first)} to {Day(last)}";

    public static string ControlReadings(int count) => $"readings, n = {count}";
}
