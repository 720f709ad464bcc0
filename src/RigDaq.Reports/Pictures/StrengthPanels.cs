using RigDaq.Core.Comparisons;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>All materials in one picture, strength against the setting, all panels with the same axes: a panel a material with its
/// conditions side by side, or a panel a condition with the materials side by side.</summary>
internal static class StrengthPanels
{
    private const double GroupShare = 0.26;
    private const float PanelTypeSize = Canvas.TypeSize + 1;

    /// <summary>A panel a material. Null with fewer than two materials: then one picture says all.</summary>
    public static Picture? Of(StudyReportModel model, ComparisonAnswer answer)
    {
        string[] materials = Measured(model.Materials, answer, group => group.Material);
        return materials.Length < 2 ? null : Draw(model, answer, new Layout(
            "strength", ReportText.StrengthOfAllTitle(model.Study.SettingName), materials, [.. model.Conditions], group
                => group.Material, group => group.Condition));
    }

    /// <summary>A panel a condition. Null with fewer than two materials or conditions.</summary>
    public static Picture? ByCondition(StudyReportModel model, ComparisonAnswer answer)
    {
        string[] materials = Measured(model.Materials, answer, group => group.Material);
        string[] conditions = Measured(model.Conditions, answer, group => group.Condition);
        if (materials.Length < 2 || conditions.Length < 2) return null;
        string title = ReportText.StrengthByConditionTitle(answer.Groups.All(group => group.Setting is null) ? ""
            : model.Study.SettingName);

        // Other colours than the conditions have: here they tell materials apart.
        return Draw(model, answer, new Layout(
            "strength-by-condition", title, conditions, [.. model.Materials], group => group.Condition, group
                => group.Material, model.Conditions.Count));
    }

    /// <summary>What panels and series are.</summary>
    private sealed record Layout(string Name, string Title, string[] Panels, string[] Series, Func<GroupStatistics, string> PanelOf,
        Func<GroupStatistics, string> SeriesOf, int FirstColour = 0);

    private static string[] Measured(IEnumerable<string> names, ComparisonAnswer answer, Func<GroupStatistics, string> nameOf) =>
        [.. names.Where(name => answer.Groups.Any(group => nameOf(group) == name))];

    private static Picture Draw(StudyReportModel model, ComparisonAnswer answer, Layout layout)
    {
        (string name, string title, string[] panels, string[] series, var panelOf, var seriesOf, int firstColour) = layout;
        return new Picture(name, title, ReportText.StrengthDescription(answer.Groups, model.Study.SettingUnit, model.ConfidencePercent,
            model.Units), DrawPlot)
        {
            Steps = panels.Sum(panel => answer.Groups.Where(group => panelOf(group) == panel).Select(seriesOf).Distinct().Count()),
        };

        Plot DrawPlot(PictureStyle style)
        {
            var axis = SettingAxis.Of(model.Study, answer.Groups.Select(group => group.Setting));
            double width = axis.High - axis.Low, top =
                (style.Values ? 1.22 : 1.12) * model.Units.Stress.Of(answer.Groups.Max(group => Math.Max(group.Maximum, group.High ?? 0)));
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
                Canvas.Words(plot, new(from + ((axis.Low + axis.High) / 2), top), panels[p], style.Ink, Alignment.UpperCenter, bold: true,
                    PanelTypeSize);
                GroupStatistics[] groups = [.. answer.Groups.Where(group => panelOf(group) == panels[p])];
                string[] shown = [.. series.Where(one => groups.Any(group => seriesOf(group) == one))];
                foreach (var (setting, at, text) in axis.Positions)
                {
                    int[] counts =
                        [.. shown.Select(one => groups.FirstOrDefault(group => seriesOf(group) == one && group.Setting == setting)?.N
                        ?? 0)];
                    ticks.AddMajor(from + at, counts.Any(n => n > 0)
                        ? $"{text}\n{StrengthPicture.Fitting(ReportText.CountsOf(counts.Select(n => ReportText.Number(n))), step)}" : text);
                }

                double slot = GroupShare * axis.Step / Math.Max(shown.Length, 1);
                for (int i = 0; i < shown.Length; i++)
                {
                    if (!style.Shows(drawn++)) continue;
                    var drawnSeries = new StrengthSeries([.. groups.Where(group => seriesOf(group) == shown[i])],
                        firstColour + Array.IndexOf(series, shown[i]), named.Add(shown[i]) ? shown[i] : null, groups);
                    StrengthPicture.DrawSeries(plot, style, model, drawnSeries,
                        new SeriesPlace(axis, from + ((i - ((shown.Length - 1) / 2.0)) * slot), slot, step));
                }

                var failed = NotPrintable.Of(model.Study)
                    .Select(group => (Panel: firstColour == 0 ? group.Material : group.Condition, Name: firstColour == 0 ? group.Condition
                    : group.Material, group.Setting));
                NotPrintable.Draw(plot, style, failed.Where(one => one.Panel == panels[p]).Select(one => (one.Name, one.Setting)), shown,
                    axis, from, new(0, top));
            }

            plot.Axes.Bottom.TickGenerator = ticks;
            plot.Axes.Bottom.MajorTickStyle.Length = 0;
            plot.Axes.SetLimits(axis.Low, axis.Low + (panels.Length * width), 0, top);
            Canvas.LegendOnTop(plot, style, series.Where(one => answer.Groups.Any(group => seriesOf(group) == one)));
            string caveats = StudyPictures.Caveats(model);
            Canvas.Note(plot, style, ReportText.StrengthNote(model.ConfidencePercent) + (caveats.Length > 0 ? "\n" + caveats : ""),
                Alignment.LowerLeft);
            return plot;
        }
    }
}
