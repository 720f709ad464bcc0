using RigDaq.Core.Comparisons;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;

namespace RigDaq.Reports.Pictures;

/// <summary>Each group against the same group of an earlier study, in per cent with its interval.</summary>
internal static class EarlierPicture
{
    public static Picture? Of(StudyReportModel model, ComparisonAnswer answer)
    {
        QuestionAnswer[] rows = [.. PreferredAnswer.Of(answer, QuestionNames.EarlierStudy)];
        if (rows.Length == 0) return null;
        string[] materials = [.. model.Materials];
        string unit = model.Study.SettingUnit;
        bool several = rows.Select(row => row.AgainstStudy).Distinct().Count() > 1;
        return RowPicture.Of(
            "earlier",
            ReportText.EarlierTitle([.. rows.Select(row => row.AgainstStudy!).Distinct()]),
            string.Join(" ", rows.Select(row => row.Sentence)),
            model,
            [.. rows.Select(row => new ChangeLine(
                ReportText.EarlierRow(row, unit, N(answer, row), several), ReportText.EarlierFigure(row), row.Percent!.Value,
                    row.PercentLow!.Value, row.PercentHigh!.Value, Array.IndexOf(materials, row.Material),
                row.Imported > 0))],
            ReportText.EarlierNote(rows, model.ConfidencePercent, model.Study.EquivalenceMarginPercent));
    }

    private static int N(ComparisonAnswer answer, QuestionAnswer row) => answer.Groups
        .Where(g => g.Material == row.Material && g.Condition == row.Condition && (row.Setting is null || g.Setting == row.Setting))
            .Sum(g => g.N);
}
