using RigDaq.Core.Comparisons;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>Answers of the model against the setting, each series with its band: what a condition changes, and what strength is
/// retained.</summary>
internal static class SettingLines
{
    /// <summary>What each condition changes in per cent against the setting, all materials in one; null with fewer than two
    /// settings.</summary>
    public static Picture? Change(StudyReportModel model, ComparisonAnswer answer) => Of(model, answer, new Lines(
        "change-by-setting", ReportText.ChangeBySettingTitle(model.Study.SettingName), ReportText.ChangeAxis, 0,
        ReportText.ChangeBySettingNote(model.ConfidencePercent, model.Study.EquivalenceMarginPercent),
        [.. PreferredAnswer.Of(answer, QuestionNames.Condition).Where(a => a.Setting is not null)
            .GroupBy(a => (a.Material, a.Condition, a.AgainstCondition))
            .Select(s =>
                new Series(ReportText.ChangeSeries(s.Key.Material!, s.Key.Condition!, s.Key.AgainstCondition!,
                N(answer, s.Key.Material, s.Key.Condition), N(answer, s.Key.Material, s.Key.AgainstCondition)),
                [.. s.Select(a => new Point(a.Setting!.Value, a.Percent!.Value, a.PercentLow!.Value, a.PercentHigh!.Value))]))],
        model.Conditions.Count));

    /// <summary>Strength retained against the setting, all materials and conditions in one.</summary>
    public static Picture? Retained(StudyReportModel model, ComparisonAnswer answer) => Retained(model, answer, "retained",
        ReportText.RetainedOfAllTitle(model.Study.SettingName), [.. PreferredAnswer.Of(answer, QuestionNames.DropOff)], null);

    /// <summary>The same for each material by itself; none where there is only one.</summary>
    public static IEnumerable<Picture> RetainedEach(StudyReportModel model, ComparisonAnswer answer)
    {
        QuestionAnswer[] all = [.. PreferredAnswer.Of(answer, QuestionNames.DropOff)];
        string[] materials = [.. model.Materials.Where(material => all.Any(a => a.Material == material))];
        return materials.Length < 2 ? [] : materials.Select(material => Retained(
            model, answer, "retained-" + FileName.Of(material), ReportText.RetainedTitle(material, model.Study),
                [.. all.Where(a => a.Material == material)], material)).OfType<Picture>();
    }

    private static Picture? Retained(StudyReportModel model, ComparisonAnswer answer, string name, string title, QuestionAnswer[] kept,
        string? material)
    {
        return Of(model, answer, new Lines(
            name, title, ReportText.RetainedAxis, 100, ReportText.RetainedNote(model.ConfidencePercent),
            [.. kept.GroupBy(a => (a.Material, a.Condition)).Select(s => new Series(
                ReportText.RetainedSeries(s.Key.Material!, s.Key.Condition!, N(answer, s.Key.Material, s.Key.Condition)),
                [.. s.Select(a => new Point(a.Setting!.Value, 100 + a.Percent!.Value, 100 + a.PercentLow!.Value,
                    100 + a.PercentHigh!.Value))
                    .Append(new Point(s.First().AgainstSetting!.Value, 100, 100, 100)).OrderBy(p => p.Setting)]))],
            0, material));
    }

    private static int N(ComparisonAnswer answer, string? material, string? condition) =>
        answer.Groups.Where(g => g.Material == material && g.Condition == condition).Sum(g => g.N);

    private static Picture? Of(StudyReportModel model, ComparisonAnswer answer, Lines lines)
    {
        (string name, string title, string axisLabel, double zero, string note, Series[] series, int firstColour, string? material) = lines;
        Series[] shown = [.. series.Where(s => s.Points.Select(p => p.Setting).Distinct().Count() > 1)];
        if (shown.Length == 0) return null;
        return
            new Picture(name, title,
            ReportText.LinesDescription([.. shown.Select(s => (s.Name, s.Points.Select(p => ($"{p.Setting}", p.Percent, p.Low, p.High))))],
            model.Study.SettingUnit), Draw)
            {
                Steps = shown.Length,
                IsDetail = material is not null,
            };

        Plot Draw(PictureStyle style)
        {
            var axis = SettingAxis.Of(model.Study, answer.Groups.Where(g => g.Setting is not null).Select(g => g.Setting));
            Plot plot = Canvas.Make(style, axis.Label(model.Study), axisLabel);
            Canvas.Title(plot, style, title);
            double margin = model.Study.EquivalenceMarginPercent;
            if (zero == 0)
            {
                var band = plot.Add.VerticalSpan(-margin, margin);
                band.FillStyle.Color = style.Band;
                band.LineStyle.Width = 0;
            }

            plot.Add.HorizontalLine(zero, 1.5f, style.Ink);
            for (int i = 0; i < shown.Length && style.Shows(i); i++)
                DrawSeries(plot, style, axis, firstColour + i, i, shown, zero == 0 ? ReportText.WholeSignedPercent
                    : percent => ReportText.Number(percent, 0));
            plot.Axes.Bottom.TickGenerator = new ScottPlot.TickGenerators.NumericManual([.. axis.Positions.Select(p => p.At)],
                [.. axis.Positions.Select(p => p.Text)]);
            if (zero == 0) plot.Axes.Left.TickGenerator = new ScottPlot.TickGenerators.NumericAutomatic
            { LabelFormatter = ReportText.SignedPercent };
            Point[] points = [.. shown.SelectMany(s => s.Points)];
            double low = Math.Min(zero == 0 ? -margin : 100, points.Min(p => p.Low)),
                high = Math.Max(zero == 0 ? margin : 100, points.Max(p => p.High)), span = high - low;
            // Room for the mark of what could not be printed, below everything else.
            double air = style.Values ? .1 : .06,
                floor = low - ((NotPrintable.Of(model.Study).Any(group => material is null || group.Material == material) ? .2 : air)
                    * span), ceiling = high + (air * span);
            NotPrintable.DrawAll(plot, style, model, axis, new(floor, ceiling), material);
            plot.Axes.SetLimits(axis.Low, axis.High, floor, ceiling);
            Canvas.LegendOnTop(plot, style, shown.Select(series => series.Name));
            string caveats = StudyPictures.Caveats(model);
            Canvas.Note(plot, style, note + (caveats.Length > 0 ? "\n" + caveats : ""), Alignment.LowerLeft);
            return plot;
        }
    }

    private static void DrawSeries(Plot plot, PictureStyle style, SettingAxis axis, int colour, int index, IReadOnlyList<Series> all,
        Func<double, string> figure)
    {
        Series series = all[index];
        Color color = style.Series(colour);
        double shift = (index - ((all.Count - 1) / 2.0)) * .03 * axis.Step;
        Point[] points = [.. series.Points.OrderBy(p => p.Setting)];
        double[] xs = [.. points.Select(p => axis.At(p.Setting) + shift)];
        var band = plot.Add.FillY(xs, [.. points.Select(p => p.Low)], [.. points.Select(p => p.High)]);
        band.FillStyle.Color = color.WithAlpha(.13);
        band.LineStyle.Width = 0;
        var line = plot.Add.ScatterLine(xs, [.. points.Select(p => p.Percent)], color);
        line.LineWidth = 2.5f;
        for (int i = 0; i < points.Length; i++) Canvas.Interval(plot, xs[i], points[i].Low, points[i].High, .02 * axis.Step, color);
        var marks = plot.Add.Markers(xs, [.. points.Select(p => p.Percent)], PictureStyle.Shape(index), 11, color);
        marks.MarkerStyle.LineColor = color;
        marks.LegendText = series.Name;
        if (!style.Values) return;
        // The reference setting is 100 % by definition: that is no result.
        for (int i = 0; i < points.Length; i++)
        {
            Point point = points[i];
            if (!(point.High > point.Low)) continue;
            ValueSide side = Canvas.SideOf(point.Percent,
                [.. all.SelectMany(s => s.Points).Where(p => p.Setting == point.Setting).Select(p => p.Percent)]);
            Canvas.Value(plot, style, xs[i],
                side switch { ValueSide.Above => point.High, ValueSide.Below => point.Low, _ => point.Percent }, figure(point.Percent),
                color, side);
        }
    }

    /// <summary>What a picture of lines shows.</summary>
    private sealed record Lines(string Name, string Title, string AxisLabel, double Zero, string Note, Series[] Series, int FirstColour,
        string? Material = null);

    /// <summary>A line of the picture.</summary>
    private sealed record Series(string Name, IReadOnlyList<Point> Points);

    /// <summary>One answer.</summary>
    private sealed record Point(decimal Setting, double Percent, double Low, double High);
}
