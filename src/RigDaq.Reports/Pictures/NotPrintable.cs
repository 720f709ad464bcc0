using RigDaq.Core.Specimens;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>The mark of what could not be printed: at its setting, on the ground of the picture, never left out.</summary>
internal static class NotPrintable
{
    // Another mark than that of a specimen that was left out.
    private const MarkerShape Mark = MarkerShape.OpenCircleWithEks;

    /// <summary>The groups that could not be printed on any of their prints, or on some.</summary>
    public static IReadOnlyList<GroupKey> Of(Study study) =>
        [.. study.Prints
            .SelectMany(print => print.Stretches.Where(stretch => stretch.Failure is not null)
            .Select(stretch => print.GroupAt(stretch.Setting))).Distinct()];

    /// <summary>Marks at each setting what could not be printed there.</summary>
    /// <param name="plot">Where.</param>
    /// <param name="style">How.</param>
    /// <param name="failed">Names with their settings: of conditions, materials or both.</param>
    /// <param name="all">All names that could stand there: where all failed, none is named.</param>
    /// <param name="axis">Its settings.</param>
    /// <param name="from">Added to the setting's place: where its panel begins.</param>
    /// <param name="values">The ends of the other axis.</param>
    public static void Draw(Plot plot, PictureStyle style, IEnumerable<(string Name, decimal? Setting)> failed,
        IReadOnlyCollection<string> all, SettingAxis axis, double from, CoordinateRange values)
    {
        (double low, double span) = (values.Min, values.Max - values.Min);
        foreach (var setting in failed.Distinct().GroupBy(one => one.Setting))
        {
            double x = from + axis.At(setting.Key);
            string[] who = [.. setting.Select(one => one.Name)];
            var mark = plot.Add.Marker(x, low + (span * 0.035), Mark, 15, style.Ink);
            mark.MarkerStyle.LineWidth = 2;
            mark.MarkerStyle.LineColor = style.Ink;
            Canvas.Words(plot, new(x, low + (span * 0.07)), all.All(who.Contains) ? ReportText.NotPrintedMark
                : ReportText.NotPrintedMarkOf(who), style.Ink, Alignment.LowerCenter);
        }
    }

    /// <summary>Marks all materials' groups on a picture that shows all of them, or one: by material where every condition
    /// failed.</summary>
    public static void DrawAll(Plot plot, PictureStyle style, StudyReportModel model, SettingAxis axis, CoordinateRange values,
        string? material = null)
    {
        var named = Of(model.Study).Where(group => material is null || group.Material == material)
            .GroupBy(group => (group.Material, group.Setting)).SelectMany(same =>
            model.Conditions.Where(condition => model.Study.Has(new GroupKey(same.Key.Material, condition, same.Key.Setting)))
                .All(condition => same.Any(group => group.Condition == condition))
                ? [(same.Key.Material, same.Key.Setting)]
                : same.Select(group => (new GroupKey(group.Material, group.Condition, null).Describe(""), group.Setting)));
        Draw(plot, style, named, material is null ? [.. model.Materials] : [material], axis, 0, values);
    }

    /// <summary>The same in words, for a picture without an axis of settings; empty where all could be printed.</summary>
    public static string Note(StudyReportModel model) =>
        string.Join(" · ", Of(model.Study).GroupBy(group => (group.Material, group.Setting))
        .Select(same => ReportText.NotPrintedNote(same.Key.Material, GroupKey.SettingText(same.Key.Setting, model.Study.SettingUnit))));
}
