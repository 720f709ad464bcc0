using RigDaq.Core.Comparisons;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>
/// All materials in one picture, strength against the setting, all panels with the same axes: a panel a material with its conditions side by
/// side, or a panel a condition with the materials side by side.
/// </summary>
internal static class StrengthPanels
{
    private const double GroupShare = 0.26;
    private const float PanelTypeSize = Canvas.TypeSize + 1;

    /// <summary>A panel a material. Null with fewer than two materials: then one picture says all.</summary>
    public static Picture? Of(StudyReportModel model, ComparisonAnswer answer)
    {
        string[] materials = Measured(model.Materials, answer, group => group.Material);
        return materials.Length < 2 ? null : Panels(
            "strength", ReportText.StrengthOfAllTitle(model.Study.SettingName), model, answer, materials, [.. model.Conditions], group => group.Material, group => group.Condition, 0);
    }

    /// <summary>A panel a condition. Null with fewer than two materials or conditions.</summary>
    public static Picture? ByCondition(StudyReportModel model, ComparisonAnswer answer)
    {
        string[] materials = Measured(model.Materials, answer, group => group.Material), conditions = Measured(model.Conditions, answer, group => group.Condition);
        // Other colours than the conditions have: here they tell materials apart.
        return materials.Length < 2 || conditions.Length < 2 ? null : Panels(
            "strength-by-condition", ReportText.StrengthByConditionTitle(answer.Groups.All(group => group.Setting is null) ? "" : model.Study.SettingName), model, answer, conditions,
            [.. model.Materials], group => group.Condition, group => group.Material, model.Conditions.Count);
    }

    private static string[] Measured(IEnumerable<string> names, ComparisonAnswer answer, Func<GroupStatistics, string> nameOf) => [.. names.Where(name => answer.Groups.Any(group => nameOf(group) == name))];

    private static Picture Panels(
        string name, string title, StudyReportModel model, ComparisonAnswer answer, string[] panels, string[] series, Func<GroupStatistics, string> panelOf, Func<GroupStatistics, string> seriesOf, int firstColour)
    {
        return new Picture(name, title, ReportText.StrengthDescription(answer.Groups, model.Study.SettingUnit, model.ConfidencePercent, model.Units), Draw)
        {
            Steps = panels.Sum(panel => answer.Groups.Where(group => panelOf(group) == panel).Select(seriesOf).Distinct().Count()),
        };

        Plot Draw(PictureStyle style)
        {
            var axis = SettingAxis.Of(model.Study, answer.Groups.Select(group => group.Setting));
            double width = axis.High - axis.Low, top = (style.Values ? 1.22 : 1.12) * model.Units.Stress.Of(answer.Groups.Max(group => Math.Max(group.Maximum, group.High ?? 0)));
            Plot plot = Canvas.Make(style, axis.Label(model.Study), ReportText.StrengthAxis(model.Units));
            Canvas.Title(plot, style, title);
            double step = TypeFit.DataRoom(plot, style) * axis.Step / (panels.Length * width);
            var ticks = new ScottPlot.TickGenerators.NumericManual();
            var named = new HashSet<string>();
            int drawn = 0;
            for (int p = 0; p < panels.Length; p++)
            {
                double from = p * width;
                if (p > 0) plot.Add.VerticalLine(from + axis.Low, 1, style.Muted);
                Canvas.Words(plot, from + ((axis.Low + axis.High) / 2), top, panels[p], style.Ink, Alignment.UpperCenter, bold: true, PanelTypeSize);
                GroupStatistics[] groups = [.. answer.Groups.Where(group => panelOf(group) == panels[p])];
                string[] shown = [.. series.Where(one => groups.Any(group => seriesOf(group) == one))];
                foreach (var (setting, at, text) in axis.Positions)
                {
                    int[] counts = [.. shown.Select(one => groups.FirstOrDefault(group => seriesOf(group) == one && group.Setting == setting)?.N ?? 0)];
                    ticks.AddMajor(from + at, counts.Any(n => n > 0) ? $"{text}\n{StrengthPicture.Fitting(ReportText.CountsOf(counts.Select(n => ReportText.Number(n))), step)}" : text);
                }

                double slot = GroupShare * axis.Step / Math.Max(shown.Length, 1);
                for (int i = 0; i < shown.Length; i++)
                {
                    if (!style.Shows(drawn++)) continue;
                    StrengthPicture.DrawSeries(plot, style, model, [.. groups.Where(group => seriesOf(group) == shown[i])], firstColour + Array.IndexOf(series, shown[i]), axis,
                        from + ((i - ((shown.Length - 1) / 2.0)) * slot), slot, named.Add(shown[i]) ? shown[i] : null, groups, step);
                }

                var failed = NotPrintable.Of(model.Study).Select(group => (Panel: firstColour == 0 ? group.Material : group.Condition, Name: firstColour == 0 ? group.Condition : group.Material, group.Setting));
                NotPrintable.Draw(plot, style, failed.Where(one => one.Panel == panels[p]).Select(one => (one.Name, one.Setting)), shown, axis, from, 0, top);
            }

            plot.Axes.Bottom.TickGenerator = ticks;
            plot.Axes.Bottom.MajorTickStyle.Length = 0;
            plot.Axes.SetLimits(axis.Low, axis.Low + (panels.Length * width), 0, top);
            Canvas.LegendOnTop(plot, style, series.Where(one => answer.Groups.Any(group => seriesOf(group) == one)));
            string caveats = StudyPictures.Caveats(model);
            Canvas.Note(plot, style, ReportText.StrengthNote(model.ConfidencePercent) + (caveats.Length > 0 ? "\n" + caveats : ""), Alignment.LowerLeft);
            return plot;
        }
    }
}
