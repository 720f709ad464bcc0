using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>The change of each comparison in per cent with its interval, against a zero line and the margin of equivalence.</summary>
internal static class ChangePicture
{
    private const int RowPixels = 44;
    private const int FramePixels = 130;

    public static Picture? Of(StudyReportModel model, ComparisonAnswer answer)
    {
        Comparison[] rows = [.. answer.Comparisons.Where(comparison => comparison is { Percent: not null, PercentLow: not null, PercentHigh: not null })];
        if (rows.Length == 0) return null;
        string[] materials = [.. model.Materials];
        return new Picture(
            "change",
            ReportText.ChangeTitle(rows),
            ReportText.ChangeDescription(rows, model.Study.SettingUnit, model.ConfidencePercent),
            style => Draw(Fitting(style, rows.Length), model, answer, rows, materials),
            style => Height(style, rows.Length));
    }

    private static int Height(PictureStyle style, int rows) => (int)(style.Scale * (FramePixels + (RowPixels * rows)));

    private static PictureStyle Fitting(PictureStyle style, int rows) => style.ExactSize && Height(style, rows) > style.HeightPixels
        ? style with { Scale = style.Scale * style.HeightPixels / Height(style, rows) }
        : style;

    private static Plot Draw(PictureStyle style, StudyReportModel model, ComparisonAnswer answer, Comparison[] rows, string[] materials)
    {
        Plot plot = Canvas.Make(style, ReportText.ChangeAxis, "");
        Canvas.Title(plot, style, ReportText.ChangeTitle(rows));
        double margin = model.Study.EquivalenceMarginPercent;
        double low = Math.Min(-margin, rows.Min(row => row.PercentLow!.Value));
        double high = Math.Max(margin, rows.Max(row => row.PercentHigh!.Value));
        double span = high - low;

        var band = plot.Add.HorizontalSpan(-margin, margin);
        band.FillStyle.Color = style.Band;
        band.LineStyle.Width = 0;
        plot.Add.VerticalLine(0, 2, style.Ink);

        var figures = new ScottPlot.TickGenerators.NumericManual();
        var ticks = new ScottPlot.TickGenerators.NumericManual();
        for (int i = 0; i < rows.Length; i++)
        {
            Comparison row = rows[i];
            double y = rows.Length - i;
            int series = Array.IndexOf(materials, row.Material);
            // Other colours than the conditions have on the pictures beside this one: here they tell materials apart.
            Color color = style.Series(model.Conditions.Count + series);
            var line = plot.Add.Line(row.PercentLow!.Value, y, row.PercentHigh!.Value, y);
            line.Color = color;
            line.LineWidth = 3;
            var mark = plot.Add.Marker(row.Percent!.Value, y, PictureStyle.Shape(series), 11, color);
            mark.MarkerStyle.LineColor = color;
            figures.AddMajor(y, ReportText.ChangeFigure(row));
            ticks.AddMajor(y, RowLabel(row, answer, model.Study.SettingUnit));
        }

        plot.Axes.Left.TickGenerator = ticks;
        plot.Axes.Left.MajorTickStyle.Length = 0;
        // The figures stand as the labels of the right axis: room is made for them, whatever their length.
        plot.Axes.Right.TickGenerator = figures;
        plot.Axes.Right.MajorTickStyle.Length = 0;
        plot.Grid.YAxisStyle.IsVisible = false;
        plot.Axes.Bottom.TickGenerator = new ScottPlot.TickGenerators.NumericAutomatic { LabelFormatter = ReportText.SignedPercent };
        plot.Axes.SetLimits(low - (span * .05), high + (span * .05), .3, rows.Length + .6);
        plot.Axes.Right.Range.Set(.3, rows.Length + .6);
        Canvas.Note(plot, style, ReportText.ChangeNote(model.ConfidencePercent, margin) + (NotPrintable.Note(model) is { Length: > 0 } failed ? "\n" + failed : "") + Caveat(model), Alignment.LowerLeft);
        return plot;
    }

    private static string RowLabel(Comparison row, ComparisonAnswer answer, string unit)
    {
        string place = string.Join(", ", new[] { row.Material, GroupKey.SettingText(row.Setting, unit) }.Where(part => part.Length > 0));
        int? N(string condition) => answer.Groups.FirstOrDefault(group =>
            group.Material == row.Material && group.Setting == row.Setting && group.Condition == condition)?.N;
        return ReportText.ChangeRow(place, row.Condition, row.Reference, N(row.Condition), N(row.Reference));
    }

    private static string Caveat(StudyReportModel model) => StudyPictures.Caveats(model) is { Length: > 0 } caveats ? "\n" + caveats : "";
}
