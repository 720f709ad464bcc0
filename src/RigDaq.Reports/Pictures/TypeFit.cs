using RigDaq.Reports.Fonts;
using ScottPlot;
using SkiaSharp;

namespace RigDaq.Reports.Pictures;

/// <summary>How much room type takes: what does not fit into a picture's width is set in several lines, never cut off.</summary>
internal static class TypeFit
{
    // Frame, figures of the axis and its label, in units of a page's pixels; the right side has a little air only.
    private const double AxisRoom = 44;
    private const double FigureRoom = 30;
    private const double AirRoom = 20;

    /// <summary>The width of a text in page pixels: of its longest line.</summary>
    /// <param name="text">The text, of one line or several.</param>
    /// <param name="size">Its size.</param>
    /// <param name="bold">Whether it is bold.</param>
    public static double WidthOf(string text, float size, bool bold = false)
    {
        EmbeddedFonts.Use();
        using var font = new SKFont(ScottPlot.Fonts.GetTypeface(EmbeddedFonts.Family, bold, italic: false), size);
        return text.Split('\n').Max(line => font.MeasureText(line));
    }

    /// <summary>The width that a picture has for its data, in page pixels.</summary>
    public static double DataRoom(Plot plot, PictureStyle style) =>
        Whole(style) - AxisRoom - Labels(plot.Axes.Left.TickGenerator, FigureRoom) - AirRoom - RightRoom(plot);

    /// <summary>The width that a note below the data has, in page pixels: it is centred there, and may stand below the labels at both
    /// sides.</summary>
    public static double NoteRoom(Plot plot, PictureStyle style) =>
        DataRoom(plot, style) + (2 * Math.Min(AxisRoom + Labels(plot.Axes.Left.TickGenerator, FigureRoom), RightRoom(plot)));

    /// <summary>The width that labels at the right take, in page pixels.</summary>
    public static double RightRoom(Plot plot) => Labels(plot.Axes.Right.TickGenerator, 0);

    /// <summary>Nothing to be seen, as wide as this text.</summary>
    public static string Blank(string text, float size) => new('\u00a0', (int)Math.Ceiling(WidthOf(text, size) / WidthOf("\u00a0", size)));

    /// <summary>The width of the whole picture within its margin, in page pixels.</summary>
    public static double Whole(PictureStyle style) => (style.WidthPixels - (2 * style.MarginPixels)) / style.Scale;

    /// <summary>The text in lines that are no wider than this; where it can, a line ends after a middle dot.</summary>
    /// <param name="text">The text, of one line or several.</param>
    /// <param name="width">In page pixels.</param>
    /// <param name="size">Its size.</param>
    /// <param name="bold">Whether it is bold.</param>
    public static string Wrapped(string text, double width, float size, bool bold = false) =>
        string.Join('\n', text.Split('\n').SelectMany(line => Joined(line.Split(Dot), Dot, width, size, bold))
            .SelectMany(line => Joined(line.Split(' '), " ", width, size, bold)));

    private const string Dot = " · ";

    private static IEnumerable<string> Joined(string[] parts, string between, double width, float size, bool bold)
    {
        string line = parts[0];
        foreach (string part in parts[1..])
        {
            if (WidthOf(line + between + part, size, bold) <= width)
            {
                line += between + part;
                continue;
            }

            yield return line;
            line = part;
        }

        yield return line;
    }

    private static double Labels(ITickGenerator ticks, double unknown)
    {
        if (ticks is not ScottPlot.TickGenerators.NumericManual manual) return unknown;
        // What was added to it shows when the library asks for it.
        using Paint paint = Paint.NewDisposablePaint();
        manual.Regenerate(new CoordinateRange(double.MinValue, double.MaxValue), Edge.Left, new PixelLength(1), paint, new LabelStyle());
        return manual.Ticks.Length == 0 ? unknown : manual.Ticks.Max(tick => WidthOf(tick.Label, Canvas.SmallTypeSize));
    }

    /// <summary>Sets a legend in as many rows as its width asks for.</summary>
    internal sealed class Rows(double width) : ILegendLayout
    {
        private readonly ScottPlot.LegendLayouts.Wrapping _wrapping = new();

        /// <inheritdoc/>
        public LegendLayout GetLayout(Legend legend, LegendItem[] items, PixelSize maxSize, Paint paint) =>
            _wrapping.GetLayout(legend, items, new PixelSize((float)Math.Min(width, maxSize.Width), maxSize.Height), paint);
    }
}
