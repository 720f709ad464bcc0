using RigDaq.Reports.Fonts;
using ScottPlot;
using ScottPlot.TickGenerators;

namespace RigDaq.Reports.Pictures;

/// <summary>What all pictures have in common: ground, type, axes, grid.</summary>
internal static class Canvas
{
    public const float TypeSize = 15;
    public const float SmallTypeSize = 13;

    // Of the library's own density: about eight figures on an axis can be read, twice as many only crowd it.
    private const double TickDensity = 0.5;
    private const float LabelGap = 10;
    private const float TitleSize = TypeSize + 4;
    private const double TitleAir = 24;
    private const float NoteLine = 1.6f;
    private const float ValueGap = 9;

    public static Plot Make(PictureStyle style, string xLabel, string yLabel)
    {
        var plot = new Plot { ScaleFactor = style.Scale };
        plot.FigureBackground.Color = style.Ground;
        plot.DataBackground.Color = Colors.Transparent;
        plot.Axes.Color(style.Ink);
        plot.Grid.MajorLineColor = style.GridLine;
        plot.Grid.MajorLineWidth = 1;
        plot.XLabel(xLabel);
        plot.YLabel(yLabel);
        foreach (IAxis axis in plot.Axes.GetAxes())
        {
            axis.Label.FontName = EmbeddedFonts.Family;
            axis.Label.FontSize = TypeSize;
            axis.Label.Bold = false;
            axis.Label.ForeColor = style.Ink;
            axis.TickLabelStyle.FontName = EmbeddedFonts.Family;
            axis.TickLabelStyle.FontSize = SmallTypeSize;
            axis.TickLabelStyle.ForeColor = style.Ink;
            axis.MinorTickStyle.Length = 0;
            axis.MajorTickStyle.Color = style.Muted;
            axis.FrameLineStyle.Color = style.Muted;
            if (axis.TickGenerator is NumericAutomatic automatic) automatic.TickDensity = TickDensity;
        }

        // The upright label keeps clear of the widest figure.
        if (plot.Axes.Left is ScottPlot.AxisPanels.YAxisBase left) left.PaddingBetweenTickAndAxisLabels = new PixelPadding(LabelGap);
        plot.Axes.Right.FrameLineStyle.Width = 0;
        plot.Axes.Top.FrameLineStyle.Width = 0;
        plot.Legend.FontName = EmbeddedFonts.Family;
        plot.Legend.FontSize = SmallTypeSize;
        plot.Legend.FontColor = style.Ink;
        plot.Legend.BackgroundColor = style.Ground;
        plot.Legend.OutlineWidth = 0;
        plot.Legend.ShadowColor = Colors.Transparent;
        return plot;
    }

    /// <summary>The title, where the picture is to stand alone.</summary>
    public static void Title(Plot plot, PictureStyle style, string title)
    {
        if (!style.Titled) return;
        // Over the whole width, in two lines where one does not hold it.
        string text = TypeFit.Wrapped(style.OwnTitle ?? title, TypeFit.Whole(style) - TitleAir, TitleSize, bold: true);
        plot.Title(text, TitleSize);
        plot.Axes.Title.FullFigureCenter = true;
        plot.Axes.Title.MinimumSize = Lines(text) * TitleSize * NoteLine;
        plot.Axes.Title.Label.FontName = EmbeddedFonts.Family;
        plot.Axes.Title.Label.Bold = true;
        plot.Axes.Title.Label.ForeColor = style.Ink;
    }

    /// <summary>The legend above the data, where it hides nothing, in as many rows as it needs.</summary>
    /// <param name="plot">Where.</param>
    /// <param name="style">How.</param>
    /// <param name="names">Every series of the picture: one that is not shown yet keeps its room, so that nothing moves when it comes.</param>
    public static void LegendOnTop(Plot plot, PictureStyle style, IEnumerable<string>? names = null)
    {
        string[] there = [.. plot.Legend.GetItems().Select(item => item.LabelText)];
        foreach (string name in (names ?? []).Except(there))
            plot.Add.Marker(0, 0, MarkerShape.None, 0, Colors.Transparent).LegendText = TypeFit.Blank(name, SmallTypeSize);
        plot.Legend.Layout = new TypeFit.Rows(TypeFit.DataRoom(plot, style));
        plot.Legend.TightHorizontalWrapping = true;
        plot.Legend.Orientation = Orientation.Horizontal;
        plot.Legend.Margin = new PixelPadding(0);
        plot.Legend.Padding = new PixelPadding(4);
        plot.Legend.InterItemPadding = new PixelPadding(14, 14, 2, 2);
        var panel = plot.ShowLegend(Edge.Top);
        panel.Padding = new PixelPadding(0);
    }

    /// <summary>A small note, such as what the points are: below the axis, where it hides nothing, or in another corner of the picture.</summary>
    public static void Note(Plot plot, PictureStyle style, string text, Alignment corner)
    {
        if (corner == Alignment.LowerLeft)
        {
            text = TypeFit.Wrapped(text, TypeFit.DataRoom(plot, style), SmallTypeSize);
            // The library centres a title left of labels at the right.
            plot.Axes.Title.Label.OffsetX = (float)(TypeFit.RightRoom(plot) / 2);
            var below = plot.Axes.AddBottomAxis();
            below.TickGenerator = new EmptyTickGenerator();
            below.FrameLineStyle.Width = 0;
            below.LabelText = text;
            below.LabelFontName = EmbeddedFonts.Family;
            below.LabelFontSize = SmallTypeSize;
            below.LabelBold = false;
            below.LabelFontColor = style.Muted;
            // The library measures one line of a label.
            below.MinimumSize = Lines(text) * SmallTypeSize * NoteLine;
            return;
        }

        var note = plot.Add.Annotation(text, corner);
        note.LabelStyle.FontName = EmbeddedFonts.Family;
        note.LabelStyle.FontSize = SmallTypeSize;
        note.LabelStyle.ForeColor = style.Muted;
        note.LabelStyle.BackgroundColor = style.NoteGround;
        note.LabelStyle.BorderColor = Colors.Transparent;
        note.LabelStyle.BorderWidth = 0;
        note.LabelStyle.ShadowColor = Colors.Transparent;
    }

    private static int Lines(string text) => text.Count(c => c == '\n') + 1;

    /// <summary>A figure beside a mean, or above what stands there.</summary>
    /// <param name="plot">Where.</param>
    /// <param name="x">The mean's place.</param>
    /// <param name="y">The mean, or the end of its interval.</param>
    /// <param name="text">The figure.</param>
    /// <param name="color">The series'.</param>
    /// <param name="side">Below 0 to the left, above 0 to the right, 0 above.</param>
    public static void Value(Plot plot, double x, double y, string text, Color color, int side)
    {
        var label = plot.Add.Text(text, x, y);
        label.LabelStyle.FontName = EmbeddedFonts.Family;
        label.LabelStyle.FontSize = SmallTypeSize;
        label.LabelStyle.ForeColor = color;
        label.LabelStyle.Alignment = side < 0 ? Alignment.MiddleRight : side > 0 ? Alignment.MiddleLeft : Alignment.LowerCenter;
        label.OffsetX = Math.Sign(side) * ValueGap;
        label.OffsetY = side == 0 ? -ValueGap / 2 : 0;
    }

    /// <summary>Words in the plot, at a place of its axes.</summary>
    public static void Words(Plot plot, double x, double y, string text, Color color, Alignment alignment, bool bold = false, float size = SmallTypeSize)
    {
        var label = plot.Add.Text(text, x, y);
        label.LabelStyle.FontName = EmbeddedFonts.Family;
        label.LabelStyle.FontSize = size;
        label.LabelStyle.Bold = bold;
        label.LabelStyle.ForeColor = color;
        label.LabelStyle.Alignment = alignment;
    }

    /// <summary>An upright interval with its ends.</summary>
    public static void Interval(Plot plot, double x, double low, double high, double cap, Color color)
    {
        foreach (var (x1, y1, x2, y2) in new[] { (x, low, x, high), (x - cap, low, x + cap, low), (x - cap, high, x + cap, high) })
        {
            var line = plot.Add.Line(x1, y1, x2, y2);
            line.Color = color;
            line.LineWidth = 2.5f;
        }
    }
}
