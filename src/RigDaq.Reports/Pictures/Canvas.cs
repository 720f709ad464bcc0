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
    /// <param name="names">Every series of the picture: one that is not shown yet keeps its room, so that nothing moves when it
    /// comes.</param>
    public static void LegendOnTop(Plot plot, PictureStyle style, IEnumerable<string>? names = null)
    {
        string[] there = [.. plot.Legend.GetItems().Select(item => item.LabelText)];
        foreach (string name in (names ?? []).Except(there))
            plot.Add.Marker(0, 0, MarkerShape.None, 0, Colors.Transparent).LegendText = TypeFit.Blank(name, SmallTypeSize);
        // A legend of nothing takes the whole picture.
        if (plot.Legend.GetItems().Length == 0) return;
        plot.Legend.Layout = new TypeFit.Rows(TypeFit.DataRoom(plot, style));
        plot.Legend.TightHorizontalWrapping = true;
        plot.Legend.Orientation = Orientation.Horizontal;
        plot.Legend.Margin = new PixelPadding(0);
        plot.Legend.Padding = new PixelPadding(4);
        plot.Legend.InterItemPadding = new PixelPadding(14, 14, 2, 2);
        var panel = plot.ShowLegend(Edge.Top);
        panel.Padding = new PixelPadding(0);
    }

    /// <summary>A small note, such as what the points are: below the axis, where it hides nothing, or in another corner of the
    /// picture.</summary>
    public static void Note(Plot plot, PictureStyle style, string text, Alignment corner)
    {
        if (corner == Alignment.LowerLeft)
        {
            text = TypeFit.Wrapped(text, TypeFit.NoteRoom(plot, style), SmallTypeSize);
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

    /// <summary>A figure at a mean.</summary>
    /// <param name="plot">Where.</param>
    /// <param name="style">How.</param>
    /// <param name="x">The mean's place.</param>
    /// <param name="y">The mean, or the end of its interval.</param>
    /// <param name="text">The figure.</param>
    /// <param name="color">The series'.</param>
    /// <param name="side">Where it stands.</param>
    public static void Value(Plot plot, PictureStyle style, double x, double y, string text, Color color, ValueSide side)
    {
        var label = plot.Add.Text(text, x, y);
        label.LabelStyle.FontName = EmbeddedFonts.Family;
        label.LabelStyle.FontSize = SmallTypeSize;
        label.LabelStyle.ForeColor = color;
        label.LabelStyle.Alignment = side switch
        {
            ValueSide.Left => Alignment.MiddleRight,
            ValueSide.Right => Alignment.MiddleLeft,
            ValueSide.Below => Alignment.UpperCenter,
            _ => Alignment.LowerCenter,
        };
        // Lines pass behind a figure that stands beside its mean.
        if (side is ValueSide.Left or ValueSide.Right) label.LabelStyle.BackgroundColor = style.OwnGround.WithAlpha(.6);
        label.OffsetX = side switch { ValueSide.Left => -ValueGap, ValueSide.Right => ValueGap, _ => 0 };
        label.OffsetY = side switch { ValueSide.Above => -ValueGap / 3, ValueSide.Below => ValueGap / 3, _ => 0 };
    }

    /// <summary>Where the figures of series stand that share a setting, so that none covers another: the strongest above its interval, the
    /// weakest below, those between by turns to both sides.</summary>
    /// <param name="value">This one.</param>
    /// <param name="all">All at this setting, itself included.</param>
    public static ValueSide SideOf(double value, IReadOnlyCollection<double> all)
    {
        int stronger = all.Count(other => other > value);
        return stronger == 0 ? ValueSide.Above : stronger == all.Count - 1 ? ValueSide.Below : stronger % 2 == 1 ? ValueSide.Right
            : ValueSide.Left;
    }

    /// <summary>A figure that is no wider than this many page pixels: without its decimals where it has to be, null where that is too wide
    /// as well.</summary>
    public static string? Fitting(string figure, double whole, double width)
    {
        string rounded = Text.ReportText.Number(whole, 0);
        return TypeFit.WidthOf(figure, SmallTypeSize) <= width ? figure : TypeFit.WidthOf(rounded, SmallTypeSize) <= width ? rounded : null;
    }

    /// <summary>Words in the plot, at a place of its axes.</summary>
    public static void Words(Plot plot, Coordinates at, string text, Color color, Alignment alignment, bool bold = false,
        float size = SmallTypeSize)
    {
        var label = plot.Add.Text(text, at.X, at.Y);
        label.LabelStyle.FontName = EmbeddedFonts.Family;
        label.LabelStyle.FontSize = size;
        label.LabelStyle.Bold = bold;
        label.LabelStyle.ForeColor = color;
        label.LabelStyle.Alignment = alignment;
    }

    /// <summary>Makes a mark an open one: its colour round the ground.</summary>
    public static void Outline(ScottPlot.Plottables.Marker mark, Color color)
    {
        (mark.MarkerStyle.OutlineColor, mark.MarkerStyle.OutlineWidth) = (color, OutlineWidth);
        (mark.MarkerStyle.LineColor, mark.MarkerStyle.LineWidth) = (color, OutlineWidth);
    }

    private const float OutlineWidth = 2;

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

/// <summary>Where a figure stands at its mean.</summary>
internal enum ValueSide
{
    /// <summary>Above the interval.</summary>
    Above,

    /// <summary>Below the interval.</summary>
    Below,

    /// <summary>To the left of the mean.</summary>
    Left,

    /// <summary>To the right of the mean.</summary>
    Right,
}
