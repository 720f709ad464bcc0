using RigDaq.Core.Statistics;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>All materials in one picture, a panel each, with the same axes: strength against the setting, conditions side by side.</summary>
internal static class StrengthPanels
{
    private const double GroupShare = 0.26;
    private const float PanelTypeSize = Canvas.TypeSize + 1;

    /// <summary>Null with fewer than two materials: then one picture says all.</summary>
    public static Picture? Of(StudyReportModel model, ComparisonAnswer answer)
    {
        string[] materials = [.. model.Materials.Where(material => answer.Groups.Any(group => group.Material == material))];
        if (materials.Length < 2) return null;
        return new Picture(
            "strength",
            ReportText.StrengthOfAllTitle(model.Study.SettingName),
            ReportText.StrengthDescription(answer.Groups, model.Study.SettingUnit, model.ConfidencePercent, model.Units),
            style => Draw(style, model, answer, materials))
        {
            Steps = materials.Sum(material => answer.Groups.Where(group => group.Material == material).Select(group => group.Condition).Distinct().Count()),
        };
    }

    private static Plot Draw(PictureStyle style, StudyReportModel model, ComparisonAnswer answer, string[] materials)
    {
        var axis = SettingAxis.Of(model.Study, answer.Groups.Select(group => group.Setting));
        double width = axis.High - axis.Low, top = 1.12 * model.Units.Stress.Of(answer.Groups.Max(group => Math.Max(group.Maximum, group.High ?? 0)));
        Plot plot = Canvas.Make(style, axis.Label(model.Study), ReportText.StrengthAxis(model.Units));
        Canvas.Title(plot, style, ReportText.StrengthOfAllTitle(model.Study.SettingName));
        string[] conditions = [.. model.Conditions];
        var ticks = new ScottPlot.TickGenerators.NumericManual();
        int drawn = 0;
        var named = new HashSet<string>();
        for (int m = 0; m < materials.Length; m++)
        {
            double from = m * width;
            if (m > 0) plot.Add.VerticalLine(from + axis.Low, 1, style.Muted);
            Canvas.Words(plot, from + ((axis.Low + axis.High) / 2), top, materials[m], style.Ink, Alignment.UpperCenter, bold: true, PanelTypeSize);
            GroupStatistics[] groups = [.. answer.Groups.Where(group => group.Material == materials[m])];
            string[] shown = [.. conditions.Where(condition => groups.Any(group => group.Condition == condition))];
            foreach (var (setting, at, text) in axis.Positions)
            {
                bool cut = groups.Any(group => group.Setting == setting);
                ticks.AddMajor(from + at, cut ? text + "\n" + StrengthPicture.Counts(groups, shown, setting) : text);
            }

            double slot = GroupShare * axis.Step / Math.Max(shown.Length, 1);
            for (int i = 0; i < shown.Length; i++)
            {
                if (!style.Shows(drawn++)) continue;
                StrengthPicture.DrawCondition(plot, style, model, [.. groups.Where(group => group.Condition == shown[i])], Array.IndexOf(conditions, shown[i]), axis,
                    from + ((i - ((shown.Length - 1) / 2.0)) * slot), slot, named.Add(shown[i]));
            }

            NotPrintable.Draw(plot, style, model, materials[m], axis, from, top, shown);
        }

        plot.Axes.Bottom.TickGenerator = ticks;
        plot.Axes.Bottom.MajorTickStyle.Length = 0;
        plot.Axes.SetLimits(axis.Low, axis.Low + (materials.Length * width), 0, top);
        Canvas.LegendOnTop(plot);
        string caveats = StudyPictures.Caveats(model);
        Canvas.Note(plot, style, ReportText.StrengthNote(model.ConfidencePercent) + (caveats.Length > 0 ? "\n" + caveats : ""), Alignment.LowerLeft);
        return plot;
    }
}
