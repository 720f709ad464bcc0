using RigDaq.Core.Comparisons;
using RigDaq.Core.Specimens;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;

namespace RigDaq.Reports.Pictures;

/// <summary>The change of each comparison in per cent with its interval, against a zero line and the margin of equivalence.</summary>
internal static class ChangePicture
{
    public static Picture? Of(StudyReportModel model, ComparisonAnswer answer)
    {
        Comparison[] rows =
            [.. answer.Comparisons.Where(comparison => comparison is { Percent: not null, PercentLow: not null, PercentHigh: not null })];
        if (rows.Length == 0) return null;
        string[] materials = [.. model.Materials];
        return RowPicture.Of(
            "change",
            ReportText.ChangeTitle(rows),
            ReportText.ChangeDescription(rows, model.Study.SettingUnit, model.ConfidencePercent),
            model,
            [.. rows.Select(row => new ChangeLine(
                RowLabel(row, answer, model.Study.SettingUnit), ReportText.ChangeFigure(row), row.Percent!.Value, row.PercentLow!.Value,
                    row.PercentHigh!.Value, Array.IndexOf(materials, row.Material)))],
            ReportText.ChangeNote(model.ConfidencePercent, model.Study.EquivalenceMarginPercent)
                + (NotPrintable.Note(model) is { Length: > 0 } failed ? "\n" + failed : ""));
    }

    private static string RowLabel(Comparison row, ComparisonAnswer answer, string unit)
    {
        string place = string.Join(", ", new[] { row.Material, GroupKey.SettingText(row.Setting, unit) }.Where(part => part.Length > 0));
        int? N(string condition) => answer.Groups.FirstOrDefault(group =>
            group.Material == row.Material && group.Setting == row.Setting && group.Condition == condition)?.N;
        return ReportText.ChangeRow(place, row.Condition, row.Reference, N(row.Condition), N(row.Reference));
    }
}
