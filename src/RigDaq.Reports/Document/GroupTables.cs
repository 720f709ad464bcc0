using System.Globalization;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Strength;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;

namespace RigDaq.Reports.Document;

/// <summary>The tables of groups, comparisons and retained strength.</summary>
internal static class GroupTables
{
    public static Table Groups(StudyReportModel model, ComparisonAnswer answer) => new(
        ReportText.GroupsCaption(model.ConfidencePercent),
        [
            new("group"), new("n", true), new("prints", true), new("mean, MPa", true), new("interval, MPa", true), new("SD, MPa", true),
            new("CV, %", true), new("median, MPa", true), new("range, MPa", true), new("left out", true), new("mean with those, MPa", true), new("endings"),
        ],
        [.. answer.Groups.Select(group => GroupRow(model, group))],
        ReportText.GroupsNote(answer));

    public static Table Comparisons(StudyReportModel model, ComparisonAnswer answer) => new(
        ReportText.ComparisonsCaption,
        [
            new("where"), new("what"), new("difference, MPa", true), new("change, %", true), new("p after Holm", true),
            new("p of equivalence", true), new("could have seen, MPa", true), new("verdict"),
        ],
        [.. answer.Comparisons.Select(comparison => ComparisonRow(model, comparison))],
        ReportText.ComparisonsNote(model));

    public static Table Retained(StudyReportModel model, ComparisonAnswer answer) => new(
        ReportText.RetainedCaption(model.Study),
        [new("series"), new("reference"), new("setting", true), new("retained, %", true), new("slope, MPa per unit", true)],
        [.. answer.Series.SelectMany(series => series.Retained.Select((retained, i) => RetainedRow(model, series, retained, i)))]);

    private static string[] GroupRow(StudyReportModel model, GroupStatistics group)
    {
        var key = new GroupKey(group.Material, group.Condition, group.Setting);
        GroupCounts? counts = model.Answer.Counts.FirstOrDefault(count => count.Group == key);
        int decimals = group is { Low: { } low, High: { } high } ? NumberText.Decimals((high - low) / 2) : 1;
        return
        [
            key.Describe(model.Study.SettingUnit),
            group.N.ToString(CultureInfo.InvariantCulture),
            group.Prints.ToString(CultureInfo.InvariantCulture),
            ReportText.Number(group.Mean, decimals),
            group.Low is null ? ReportText.None : $"{ReportText.Number(group.Low.Value, decimals)} to {ReportText.Number(group.High!.Value, decimals)}",
            ReportText.Or(group.StandardDeviation, decimals + 1),
            ReportText.Or(group.VariationPercent, 1),
            ReportText.Number(group.Median, decimals),
            $"{ReportText.Number(group.Minimum, decimals)} to {ReportText.Number(group.Maximum, decimals)}",
            (counts?.VoidedTotal ?? 0).ToString(CultureInfo.InvariantCulture),
            counts is { VoidedTotal: > 0 } ? ReportText.Or(counts.MeanWithVoidsMegapascals, decimals) : ReportText.None,
            counts is null ? ReportText.None : string.Join(", ", counts.Endings.OrderBy(ending => ending.Key).Select(ending => $"{ending.Value} {ending.Key.Word()}")),
        ];
    }

    private static string[] ComparisonRow(StudyReportModel model, Comparison row)
    {
        string place = string.Join(", ", new[] { row.Material, GroupKey.SettingText(row.Setting, model.Study.SettingUnit) }.Where(part => part.Length > 0));
        return
        [
            place,
            $"{row.Condition} − {row.Reference}",
            row is { Low: { } low, High: { } high } ? ReportText.MeanWithInterval(row.Difference, low, high) : ReportText.Number(row.Difference, 1),
            row is { Percent: { } percent, PercentLow: { } from, PercentHigh: { } to } ? ReportText.MeanWithInterval(percent, from, to) : ReportText.None,
            ReportText.Probability(row.PAdjusted),
            ReportText.Probability(row.PEquivalence),
            row.Resolvable is { } resolvable ? ReportText.Number(resolvable, NumberText.Decimals(resolvable)) : ReportText.None,
            row.Verdict + (row.WithinMargin ? ReportText.WithinMargin : ""),
        ];
    }

    private static string[] RetainedRow(StudyReportModel model, SettingSeries series, RetainedStrength retained, int index)
    {
        string unit = model.Study.SettingUnit;
        return
        [
            string.Join(", ", new[] { series.Material, series.Condition }.Where(part => part.Length > 0)),
            GroupKey.SettingText(series.ReferenceSetting, unit),
            GroupKey.SettingText(retained.Setting, unit),
            retained is { Percent: { } percent, PercentLow: { } low, PercentHigh: { } high } ? ReportText.MeanWithInterval(percent, low, high) : ReportText.None,
            index == 0 && series is { Slope: { } slope, SlopeLow: { } from, SlopeHigh: { } to } ? ReportText.MeanWithInterval(slope, from, to) : "",
        ];
    }
}
