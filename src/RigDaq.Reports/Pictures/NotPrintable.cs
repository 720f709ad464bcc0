using RigDaq.Reports.Model;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>The mark of what could not be printed: at its setting, on the ground of the picture, never left out.</summary>
internal static class NotPrintable
{
    /// <summary>Marks every group of a material that could not be printed.</summary>
    /// <param name="plot">Where.</param>
    /// <param name="style">How.</param>
    /// <param name="model">The study.</param>
    /// <param name="material">Whose.</param>
    /// <param name="axis">Its settings.</param>
    /// <param name="from">Added to the setting's place: where its panel begins.</param>
    /// <param name="top">The upper end of the other axis.</param>
    /// <param name="conditions">In the order of colours.</param>
    public static void Draw(Plot plot, PictureStyle style, StudyReportModel model, string material, SettingAxis axis, double from, double top, IReadOnlyList<string> conditions)
    {
        var failed = model.Study.Prints.Where(print => print.Material == material)
            .SelectMany(print => print.Stretches.Where(stretch => stretch.Failure is not null).Select(stretch => (print.Condition, stretch.Setting))).Distinct()
            .GroupBy(stretch => stretch.Setting);
        foreach (var setting in failed)
        {
            double x = from + axis.At(setting.Key);
            string[] who = [.. setting.Select(stretch => stretch.Condition)];
            var mark = plot.Add.Marker(x, top * 0.03, MarkerShape.Eks, 13, style.Ink);
            mark.MarkerStyle.LineWidth = 3;
            bool all = conditions.All(who.Contains);
            Canvas.Words(plot, x, top * 0.06, all ? ReportText.NotPrintedMark : ReportText.NotPrintedMarkOf(who), style.Ink, Alignment.LowerCenter);
        }
    }
}
