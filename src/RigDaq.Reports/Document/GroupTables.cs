using System.Globalization;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Core.Uncertainty;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;

namespace RigDaq.Reports.Document;

/// <summary>The tables of groups and comparisons.</summary>
internal static class GroupTables
{
    public static Table Groups(StudyReportModel model, ComparisonAnswer answer) => new(
        ReportText.GroupsCaption(model.ConfidencePercent),
        [
            new(ReportText.GroupColumn), new(ReportText.CountColumn, true), new(ReportText.PrintsColumn, true),
                new(ReportText.MeanColumn(model.Units), true),
            new(ReportText.IntervalColumn(model.Units), true), new(ReportText.DeviationColumn(model.Units), true),
                new(ReportText.VariationColumn, true),
            new(ReportText.MedianColumn(model.Units), true), new(ReportText.RangeColumn(model.Units), true),
                new(ReportText.LeftOutColumn, true),
            new(ReportText.MeanWithLeftOutColumn(model.Units), true), new(ReportText.EndingsColumn),
        ],
        [.. answer.Groups
            .Select(group => GroupRow(model, group, CommonDecimals(model, answer),
            ScatterDecimals(answer, group => model.Units.Stress.Of(group.StandardDeviation)),
            ScatterDecimals(answer, group => group.VariationPercent)))],
        ReportText.GroupsNote(answer, model.Units));

    /// <summary>The means as absolute figures; null where nothing is known of the calibration's share.</summary>
    public static Table? Absolute(StudyReportModel model, ComparisonAnswer answer)
    {
        // In the order of the other tables.
        AbsoluteMean[] means =
            [.. answer.Groups
            .Select(group => model.Answer.AbsoluteMeans
            .FirstOrDefault(mean => mean.Group == new GroupKey(group.Material, group.Condition, group.Setting)))
            .OfType<AbsoluteMean>().Where(mean => mean.CalibrationStandardUncertaintyMegapascals is { } share && double.IsFinite(share))];
        return means.Length == 0 ? null : new Table(
            ReportText.AbsoluteCaption,
            [
                new(ReportText.GroupColumn), new(ReportText.MeanColumn(model.Units), true),
                    new(ReportText.AbsoluteIntervalColumn(model.Units), true),
                new(ReportText.CalibrationShareColumn(model.Units), true),
            ],
            [.. means.Select(mean => AbsoluteRow(model, mean, Middle(means.Select(one => AbsoluteDecimals(model, one)))))],
            ReportText.AbsoluteNote);
    }

    private static int AbsoluteDecimals(StudyReportModel model, AbsoluteMean mean) =>
        model.Units.Stress.Decimals((mean.HighMegapascals - mean.LowMegapascals) / 2 is { } half && double.IsFinite(half) ? half : null, 1);

    private static string[] AbsoluteRow(StudyReportModel model, AbsoluteMean mean, int decimals)
    {
        Unit unit = model.Units.Stress;
        double share = 2 * mean.CalibrationStandardUncertaintyMegapascals!.Value;
        return
        [
            mean.Group.Describe(model.Study.SettingUnit),
            ReportText.Or(unit.Of(mean.MeanMegapascals), decimals),
            mean is { LowMegapascals: { } low, HighMegapascals: { } high }
                ? ReportText.Span(ReportText.Number(unit.Of(low), decimals), ReportText.Number(unit.Of(high), decimals)) : ReportText.None,
            ReportText.Number(unit.Of(share), unit.Decimals(share, 2)),
        ];
    }

    public static Table Comparisons(StudyReportModel model, ComparisonAnswer answer) => new(
        ReportText.ComparisonsCaption,
        [
            new(ReportText.WhereColumn), new(ReportText.WhatColumn), new(ReportText.DifferenceColumn(model.Units), true),
                new(ReportText.ChangeColumn, true),
            new(ReportText.HolmColumn, true), new(ReportText.EquivalenceColumn, true), new(ReportText.ResolvableColumn(model.Units), true),
                new(ReportText.VerdictColumn),
        ],
        [.. answer.Comparisons.Select(comparison => ComparisonRow(model, comparison))],
        ReportText.ComparisonsNote(model));

    private static string[] GroupRow(StudyReportModel model, GroupStatistics group, int decimals, int deviationDecimals,
        int variationDecimals)
    {
        var key = new GroupKey(group.Material, group.Condition, group.Setting);
        GroupCounts? counts = model.Answer.Counts.FirstOrDefault(count => count.Group == key);
        Unit unit = model.Units.Stress;
        // A single specimen is not known better than its own measurement, however many there are.
        int own = Math.Min(decimals, unit.Decimals(Expanded(model, key), 1));
        return
        [
            key.Describe(model.Study.SettingUnit),
            group.N.ToString(CultureInfo.InvariantCulture),
            group.Prints.ToString(CultureInfo.InvariantCulture),
            ReportText.Number(unit.Of(group.Mean), decimals),
            group.Low is null ? ReportText.None
                : ReportText.Span(ReportText.Number(unit.Of(group.Low.Value), decimals),
                ReportText.Number(unit.Of(group.High!.Value), decimals)),
            Scatter(unit.Of(group.StandardDeviation), deviationDecimals),
            Scatter(group.VariationPercent, variationDecimals),
            ReportText.Number(unit.Of(group.Median), own),
            ReportText.Span(ReportText.Number(unit.Of(group.Minimum), own), ReportText.Number(unit.Of(group.Maximum), own)),
            (counts?.VoidedTotal ?? 0).ToString(CultureInfo.InvariantCulture),
            counts is { VoidedTotal: > 0 } ? ReportText.Or(unit.Of(counts.MeanWithVoidsMegapascals), decimals) : ReportText.None,
            counts is null ? ReportText.None
                : string.Join(", ", counts.Endings.OrderBy(ending => ending.Key)
                .Select(ending => ReportText.Ended(ending.Value, ending.Key.Spoken()))),
        ];
    }

    /// <summary>Decimals for all groups alike, so that their points stand below one another: what the middle one's interval
    /// allows.</summary>
    private static int CommonDecimals(StudyReportModel model, ComparisonAnswer answer)
    {
        Unit unit = model.Units.Stress;
        return
            Middle(answer.Groups.Select(group => group is { Low: { } low, High: { } high } ? NumberText.Decimals(unit.Of((high - low) / 2))
            : unit.Decimals(1)));
    }

    private static string Scatter(double? figure, int decimals) => figure is { } number ? ReportText.Number(number, decimals)
        : ReportText.None;

    /// <summary>The same for standard deviations: what the middle one's number of values allows.</summary>
    private static int ScatterDecimals(ComparisonAnswer answer, Func<GroupStatistics, double?> figure) =>
        Middle(answer.Groups.Where(group => figure(group) is not null)
            .Select(group => NumberText.Decimals(NumberText.OfDeviation(figure(group)!.Value, group.N))));

    private static int Middle(IEnumerable<int> decimals) => decimals.Order().ToArray() is { Length: > 0 } each ? each[each.Length / 2] : 1;

    private static double? Expanded(StudyReportModel model, GroupKey key)
        => model.Runs.Where(run => model.GroupOf(run.Head.SpecimenId) == key)
        .Max(run => PeakForceUncertainty.CoverageFactor * run.Strength?.StandardUncertaintyMegapascals);

    private static string[] ComparisonRow(StudyReportModel model, Comparison row)
    {
        string place = string
            .Join(", ", new[] { row.Material, GroupKey.SettingText(row.Setting, model.Study.SettingUnit) }.Where(part => part.Length > 0));
        Unit unit = model.Units.Stress;
        return
        [
            place,
            ReportText.Pair(row),
            row is { Low: { } low, High: { } high } ? ReportText.MeanWithInterval(unit.Of(row.Difference), unit.Of(low), unit.Of(high))
                : unit.Figure(row.Difference, 1),
            row is { Percent: { } percent, PercentLow: { } from, PercentHigh: { } to } ? ReportText.MeanWithInterval(percent, from, to)
                : ReportText.None,
            ReportText.Probability(row.PAdjusted),
            ReportText.Probability(row.PEquivalence),
            row.Resolvable is { } resolvable ? ReportText.Number(unit.Of(resolvable), NumberText.Decimals(unit.Of(resolvable)))
                : ReportText.None,
            ReportText.Verdict(row) + (row.WithinMargin ? ReportText.WithinMargin : ""),
        ];
    }
}
