using RigDaq.Core.Statistics;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>Strength retained across settings: per cent of the reference setting with its interval, and the line of 100 %.</summary>
internal static class RetainedPicture
{
    /// <summary>One picture a material, all on one scale.</summary>
    public static IEnumerable<Picture> Of(StudyReportModel model, ComparisonAnswer answer)
    {
        SettingSeries[] all = [.. answer.Series.Where(series => series.Retained.Any(point => point is { Percent: not null, PercentLow: not null, PercentHigh: not null }))];
        if (all.Length == 0) yield break;
        double top = 1.08 * Math.Max(100, all.SelectMany(series => series.Retained).Max(point => point.PercentHigh ?? 0));
        foreach (var material in all.GroupBy(series => series.Material))
        {
            SettingSeries[] shown = [.. material];
            yield return new Picture(
                "retained-" + FileName.Of(material.Key),
                ReportText.RetainedTitle(material.Key, model.Study),
                ReportText.RetainedDescription(shown, model.Study.SettingUnit, model.ConfidencePercent),
                style => Draw(style, model, answer, shown, top))
            {
                IsDetail = true,
            };
        }
    }

    private static Plot Draw(PictureStyle style, StudyReportModel model, ComparisonAnswer answer, SettingSeries[] shown, double top)
    {
        var axis = SettingAxis.Of(model.Study, shown.SelectMany(series => series.Retained.Select(point => (decimal?)point.Setting).Append(series.ReferenceSetting)));
        Plot plot = Canvas.Make(style, axis.Label(model.Study), ReportText.RetainedAxis);
        Canvas.Title(plot, style, ReportText.RetainedTitle(shown[0].Material, model.Study));
        plot.Add.HorizontalLine(100, 1.5f, style.Ink);
        double slot = .12 * axis.Step;
        for (int i = 0; i < shown.Length; i++)
        {
            int series = Math.Max(0, Array.IndexOf([.. model.Conditions], shown[i].Condition));
            Color color = style.Series(series);
            double shift = (i - ((shown.Length - 1) / 2.0)) * slot;
            var points = shown[i].Retained.Where(point => point.Percent is not null)
                .Select(point => (At: axis.At(point.Setting) + shift, Percent: point.Percent!.Value, point.PercentLow, point.PercentHigh))
                .Append((At: axis.At(shown[i].ReferenceSetting) + shift, Percent: 100, PercentLow: null, PercentHigh: null))
                .OrderBy(point => point.At).ToArray();
            double[] xs = [.. points.Select(point => point.At)];
            double[] ys = [.. points.Select(point => point.Percent)];
            var line = plot.Add.ScatterLine(xs, ys, color.WithAlpha(.5));
            line.LineWidth = 1.5f;
            foreach (var point in points)
            {
                if (point.PercentLow is { } low && point.PercentHigh is { } high) Canvas.Interval(plot, point.At, low, high, slot * .3, color);
            }

            var marks = plot.Add.Markers(xs, ys, PictureStyle.Shape(series), 10, color);
            marks.MarkerStyle.LineColor = color;
            marks.LegendText = ReportText.RetainedLegend(shown[i], answer, model.Study.SettingUnit);
        }

        plot.Axes.Bottom.TickGenerator = new ScottPlot.TickGenerators.NumericManual(
            [.. axis.Positions.Select(position => position.At)], [.. axis.Positions.Select(position => position.Text)]);
        NotPrintable.Draw(plot, style, NotPrintable.Of(model.Study).Where(g => g.Material == shown[0].Material).Select(g => (g.Condition, g.Setting)), [.. shown.Select(series => series.Condition)], axis, 0, 0, top);
        plot.Axes.SetLimits(axis.Low, axis.High, 0, top);
        Canvas.LegendOnTop(plot, style);
        string caveats = StudyPictures.Caveats(model);
        Canvas.Note(plot, style, ReportText.RetainedNote(model.ConfidencePercent) + (caveats.Length > 0 ? "\n" + caveats : ""), Alignment.LowerLeft);
        return plot;
    }
}
