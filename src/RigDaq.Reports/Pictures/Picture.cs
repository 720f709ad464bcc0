using RigDaq.Reports.Fonts;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>One picture, drawn anew in each style that is asked for.</summary>
public sealed class Picture
{
    // The drawing library keeps its fonts in static tables that are not made for threads.
    private static readonly Lock Drawing = new();
    private readonly Func<PictureStyle, Plot> _draw;
    private readonly Func<PictureStyle, int> _height;

    internal Picture(string name, string title, string description, Func<PictureStyle, Plot> draw, Func<PictureStyle, int>? height = null)
    {
        Name = name;
        Title = title;
        Description = description;
        _draw = draw;
        _height = style => style.ExactSize || height is null ? style.HeightPixels : height(style);
    }

    /// <summary>Fit for a file name.</summary>
    public string Name { get; }

    /// <summary>What stands above it.</summary>
    public string Title { get; }

    /// <summary>What it shows, in words, for who cannot see it.</summary>
    public string Description { get; }

    /// <summary>Whether it comes after the tables in a report: for who wants to look closer.</summary>
    internal bool IsDetail { get; init; }

    /// <summary>As SVG with real text.</summary>
    public string ToSvg(PictureStyle style)
    {
        lock (Drawing)
        {
            using Plot plot = Draw(style);
            return plot.GetSvgXml(style.WidthPixels, _height(style)).Replace(
                $"font-family=\"{EmbeddedFonts.Family}\"",
                $"font-family=\"{EmbeddedFonts.Family}, Arial, Helvetica, sans-serif\"",
                StringComparison.Ordinal);
        }
    }

    /// <summary>As PNG.</summary>
    public byte[] ToPng(PictureStyle style)
    {
        lock (Drawing)
        {
            using Plot plot = Draw(style);
            return plot.GetImageBytes(style.WidthPixels, _height(style), ImageFormat.Png);
        }
    }

    /// <summary>On a canvas of another document.</summary>
    /// <param name="style">How.</param>
    /// <param name="canvas">Gives the canvas for a width and a height.</param>
    internal void Draw(PictureStyle style, Func<float, float, SkiaSharp.SKCanvas> canvas)
    {
        lock (Drawing)
        {
            using Plot plot = Draw(style);
            int height = _height(style);
            plot.Render(canvas(style.WidthPixels, height), new PixelRect(0, style.WidthPixels, height, 0));
        }
    }

    private Plot Draw(PictureStyle style)
    {
        EmbeddedFonts.Use();
        return _draw(style);
    }
}
