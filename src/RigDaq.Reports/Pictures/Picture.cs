using System.Xml.Linq;
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

    /// <summary>How many series it has, which can be revealed one after another (<see cref="PictureStyle.Reveal"/>); 1 where it
    /// cannot.</summary>
    public int Steps { get; internal init; } = 1;

    /// <summary>As SVG with real text.</summary>
    public string ToSvg(PictureStyle style)
    {
        lock (Drawing)
        {
            using Plot plot = Draw(style);
            int margin = style.MarginPixels, height = _height(style);
            string svg = plot.GetSvgXml(style.WidthPixels - (2 * margin), height - (2 * margin)).Replace(
                $"font-family=\"{EmbeddedFonts.Family}\"",
                $"font-family=\"{EmbeddedFonts.Family}, Arial, Helvetica, sans-serif\"",
                StringComparison.Ordinal);
            return margin == 0 ? svg : Framed(svg, style, height);
        }
    }

    /// <summary>As PNG.</summary>
    public byte[] ToPng(PictureStyle style)
    {
        lock (Drawing)
        {
            using Plot plot = Draw(style);
            int margin = style.MarginPixels, height = _height(style);
            if (margin == 0) return plot.GetImageBytes(style.WidthPixels, height, ImageFormat.Png);
            using var surface = SkiaSharp.SKSurface.Create(new SkiaSharp.SKImageInfo(style.WidthPixels, height));
            int before = surface.Canvas.Save();
            plot.Render(surface.Canvas, new PixelRect(margin, style.WidthPixels - margin, height - margin, margin));
            // The library clears the whole canvas and leaves its scale behind: the margin gets its ground afterwards.
            surface.Canvas.RestoreToCount(before);
            surface.Canvas.ResetMatrix();
            surface.Canvas.ClipRect(new SkiaSharp.SKRect(margin, margin, style.WidthPixels - margin, height - margin),
                SkiaSharp.SKClipOperation.Difference);
            surface.Canvas.Clear(style.Transparent ? SkiaSharp.SKColors.Transparent : SkiaSharp.SKColor.Parse(style.OwnGround.ToHex()));
            using SkiaSharp.SKImage image = surface.Snapshot();
            using SkiaSharp.SKData data = image.Encode(SkiaSharp.SKEncodedImageFormat.Png, 100);
            return data.ToArray();
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

    /// <summary>The picture within a margin that nothing is drawn in.</summary>
    private static string Framed(string svg, PictureStyle style, int height)
    {
        XNamespace names = "http://www.w3.org/2000/svg";
        XElement inner = XElement.Parse(svg, LoadOptions.PreserveWhitespace);
        inner.SetAttributeValue("x", style.MarginPixels);
        inner.SetAttributeValue("y", style.MarginPixels);
        var frame = new XElement(names + "svg", new XAttribute("width", style.WidthPixels), new XAttribute("height", height));
        if (!style.Transparent)
            frame.Add(new XElement(names + "rect", new XAttribute("width", style.WidthPixels), new XAttribute("height", height),
            new XAttribute("fill", style.OwnGround.ToHex())));
        frame.Add(inner);
        return frame.ToString(SaveOptions.DisableFormatting);
    }

    private Plot Draw(PictureStyle style)
    {
        EmbeddedFonts.Use();
        return _draw(style);
    }
}
