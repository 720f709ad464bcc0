using RigDaq.Reports.Model;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>A change in per cent with its interval, in a row of its own.</summary>
/// <param name="Label">What is set against what, left.</param>
/// <param name="Figure">The figures and the verdict, right.</param>
/// <param name="Percent">The change.</param>
/// <param name="Low">The lower end.</param>
/// <param name="High">The upper end.</param>
/// <param name="Series">Tells materials apart.</param>
/// <param name="Hollow">Whether it rests on imported strengths: an open mark.</param>
internal sealed record ChangeLine(string Label, string Figure, double Percent, double Low, double High, int Series, bool Hollow = false);

/// <summary>Changes in per cent, a row each, against a zero line and the margin of equivalence.</summary>
internal static class RowPicture
{
    private const int RowPixels = 44;
    private const int FramePixels = 130;

    public static Picture Of(string name, string title, string description, StudyReportModel model, ChangeLine[] rows, string note) =>
        new(name, title, description, style => Draw(Fitting(style, rows.Length), title, model, rows, note),
        style => Height(style, rows.Length));

    private static int Height(PictureStyle style, int rows) => (int)(style.Scale * (FramePixels + (RowPixels * rows)));

    private static PictureStyle Fitting(PictureStyle style, int rows) => style.ExactSize && Height(style, rows) > style.HeightPixels
        ? style with { Scale = style.Scale * style.HeightPixels / Height(style, rows) }
        : style;

    private static Plot Draw(PictureStyle style, string title, StudyReportModel model, ChangeLine[] rows, string note)
    {
        Plot plot = Canvas.Make(style, ReportText.ChangeAxis, "");
        Canvas.Title(plot, style, title);
        double margin = model.Study.EquivalenceMarginPercent;
        double low = Math.Min(-margin, rows.Min(row => row.Low));
        double high = Math.Max(margin, rows.Max(row => row.High));
        double span = high - low;

        var band = plot.Add.HorizontalSpan(-margin, margin);
        band.FillStyle.Color = style.Band;
        band.LineStyle.Width = 0;
        plot.Add.VerticalLine(0, 2, style.Ink);

        var figures = new ScottPlot.TickGenerators.NumericManual();
        var ticks = new ScottPlot.TickGenerators.NumericManual();
        for (int i = 0; i < rows.Length; i++)
        {
            ChangeLine row = rows[i];
            double y = rows.Length - i;
            // Other colours than the conditions have on the pictures beside this one: here they tell materials apart.
            Color color = style.Series(model.Conditions.Count + row.Series);
            var line = plot.Add.Line(row.Low, y, row.High, y);
            line.Color = color;
            line.LineWidth = 3;
            var mark = plot.Add.Marker(row.Percent, y, PictureStyle.Shape(row.Series), 11, row.Hollow ? style.OwnGround : color);
            mark.MarkerStyle.LineColor = color;
            if (row.Hollow) Canvas.Outline(mark, color);
            figures.AddMajor(y, row.Figure);
            ticks.AddMajor(y, row.Label);
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
        string caveats = StudyPictures.Caveats(model);
        Canvas.Note(plot, style, note + (caveats.Length > 0 ? "\n" + caveats : ""), Alignment.LowerLeft);
        return plot;
    }
}
