using RigDaq.Core.Comparisons;
using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>Weibull probability plots: strengths that lie on a straight line follow the distribution.</summary>
internal static class WeibullPicture
{
    // A line through fewer points says nothing.
    private const int LeastFailures = 5;
    private static readonly double[] Shares = [.01, .02, .05, .1, .2, .3, .5, .632, .8, .9, .95, .99];

    /// <summary>One picture a material and setting, conditions side by side.</summary>
    public static IEnumerable<Picture> Of(StudyReportModel model)
    {
        GroupWeibull[] fitted =
            [.. StudyWeibull.Of(model.Answer, model.ConfidencePercent).Where(group => group.Fit is { Failures: >= LeastFailures })];
        string[] conditions = [.. model.Conditions];
        foreach (var place in fitted.GroupBy(group => (group.Group.Material, group.Group.Setting))
            .OrderBy(place => Array.IndexOf([.. model.Materials], place.Key.Material)).ThenBy(place => place.Key.Setting))
        {
            GroupWeibull[] groups = [.. place.OrderBy(group => Array.IndexOf(conditions, group.Group.Condition))];
            string name = string
                .Join(", ",
                new[]
                { place.Key.Material, GroupKey.SettingText(place.Key.Setting, model.Study.SettingUnit) }.Where(part => part.Length > 0));
            yield return new Picture(
                "weibull-" + FileName.Of(name),
                ReportText.WeibullTitle(name),
                string.Join("; ", groups.Select(group => ReportText.WeibullLegend(group.Group.Condition, group.Fit!, model.Units))),
                style => Draw(style, model, name, groups, conditions))
            {
                IsDetail = true,
            };
        }
    }

    private static Plot Draw(PictureStyle style, StudyReportModel model, string name, GroupWeibull[] groups, string[] conditions)
    {
        Plot plot = Canvas.Make(style, ReportText.StrengthLogAxis(model.Units), ReportText.BrokenShareAxis);
        Canvas.Title(plot, style, ReportText.WeibullTitle(name));
        double low = double.MaxValue, high = 0;
        Unit unit = model.Units.Stress;
        foreach (GroupWeibull group in groups)
        {
            WeibullFit fit = group.Fit!;
            int series = Math.Max(0, Array.IndexOf(conditions, group.Group.Condition));
            Color color = style.Series(series);
            double[] ends = [unit.Of(fit.Quantile(Shares[0])), unit.Of(fit.Quantile(Shares[^1]))];
            var line = plot.Add.Line(Math.Log10(ends[0]), Place(Shares[0]), Math.Log10(ends[1]), Place(Shares[^1]));
            line.Color = color.WithAlpha(.6);
            line.LineWidth = 1.5f;
            double[] strengths = [.. fit.Points.Select(point => Math.Log10(unit.Of(point.StrengthMegapascals)))];
            var marks = plot.Add.Markers(strengths, [.. fit.Points.Select(point => Place(point.Probability))], PictureStyle.Shape(series),
                9, color);
            marks.MarkerStyle.LineColor = color;
            marks.LegendText = ReportText.WeibullLegend(group.Group.Condition, fit, model.Units);
            low = Math.Min(low, Math.Min(ends[0], unit.Of(fit.Points[0].StrengthMegapascals)));
            high = Math.Max(high, Math.Max(ends[1], unit.Of(fit.Points[^1].StrengthMegapascals)));
        }

        plot.Axes.SetLimits(Math.Log10(low) - .02, Math.Log10(high) + .02, Place(.005), Place(.995));
        plot.Axes.Left.TickGenerator = new ScottPlot.TickGenerators.NumericManual([.. Shares.Select(Place)],
            [.. Shares.Select(ReportText.Share)]);
        double[] ticks = LogTicks(low, high);
        plot.Axes.Bottom.TickGenerator = new ScottPlot.TickGenerators.NumericManual([.. ticks.Select(Math.Log10)],
            [.. ticks.Select(tick => ReportText.Number(tick))]);
        Canvas.LegendOnTop(plot, style);
        string caveats = StudyPictures.Caveats(model);
        Canvas.Note(plot, style, ReportText.WeibullNote + (caveats.Length > 0 ? "\n" + caveats : ""), Alignment.LowerRight);
        return plot;
    }

    // Weibull paper: ln(−ln(1 − F)) upwards.
    private static double Place(double share) => Math.Log(-Math.Log(1 - share));

    private static double[] LogTicks(double low, double high)
    {
        double step = Math.Pow(10, Math.Floor(Math.Log10(high - low)));
        while ((high - low) / step > 9) step *= 2;
        while ((high - low) / step < 4) step /= 2;
        var ticks = new List<double>();
        for (double tick = Math.Ceiling(low / step) * step; tick <= high; tick += step) ticks.Add(tick);
        return [.. ticks];
    }
}
