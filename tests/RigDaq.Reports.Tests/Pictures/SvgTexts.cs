using System.Globalization;
using System.Xml.Linq;

namespace RigDaq.Reports.Tests.Pictures;

/// <summary>A line of text on a picture, where it stands in the picture's pixels.</summary>
internal sealed record SvgText(string Text, double Left, double Right, double Top, double Bottom, bool Upright)
{
    /// <summary>The last glyph's place is written, not its end; no letter is wider than this share of the size.</summary>
    private const double GlyphShare = 0.85;

    /// <summary>Every text of a picture with its place. The library writes the place of each glyph, and one matrix for all of
    /// them.</summary>
    public static IReadOnlyList<SvgText> Of(string svg)
    {
        XElement root = XElement.Parse(svg);
        XElement? inner = root.Elements().FirstOrDefault(element => element.Name.LocalName == "svg");
        double Number(XElement? element, string name) => element?.Attribute(name) is { } value
            ? double.Parse(value.Value, CultureInfo.InvariantCulture) : 0;
        return [.. root.Descendants().Where(element => element.Name.LocalName == "text" && element.Value.Trim().Length > 0)
            .Select(element => At(element, Number(inner, "x"), Number(inner, "y")))];
    }

    private static SvgText At(XElement element, double dx, double dy)
    {
        double[] matrix = Matrix(element.Attribute("transform")?.Value), xs = List(element, "x"), ys = List(element, "y");
        double size = double.Parse(element.Attribute("font-size")!.Value, CultureInfo.InvariantCulture);
        double first = xs[0], last = xs[^1] + (element.Value.TrimEnd()[^1] is '.' or '|' or ')' or '(' ? size * .35 : size * GlyphShare
            * .8), y = ys[0];
        (double X, double Y)[] corners =
            [.. new[] { (first, y), (last, y), (first, y - (size * .72)), (last, y - (size * .72)) }.Select(p =>
            ((matrix[0] * p.Item1) + (matrix[2] * p.Item2) + matrix[4] + dx, (matrix[1] * p.Item1) + (matrix[3] * p.Item2) + matrix[5]
                + dy))];
        return new SvgText(element.Value.Trim(), corners.Min(c => c.X), corners.Max(c => c.X), corners.Min(c => c.Y), corners.Max(c => c.Y),
            matrix[1] != 0);
    }

    private static double[] List(XElement element, string name) =>
        [.. element.Attribute(name)!.Value.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
            .Select(n => double.Parse(n, CultureInfo.InvariantCulture))];

    private static double[] Matrix(string? transform)
    {
        if (transform is null) return [1, 0, 0, 1, 0, 0];
        double[] n = [.. transform[(transform.IndexOf('(', StringComparison.Ordinal) + 1)..transform.IndexOf(')', StringComparison.Ordinal)]
            .Split([' ', ','], StringSplitOptions.RemoveEmptyEntries)
            .Select(number => double.Parse(number, CultureInfo.InvariantCulture))];
        if (transform.StartsWith("translate", StringComparison.Ordinal)) return [1, 0, 0, 1, n[0], n.Length > 1 ? n[1] : 0];
        if (transform.StartsWith("scale", StringComparison.Ordinal)) return [n[0], 0, 0, n.Length > 1 ? n[1] : n[0], 0, 0];
        return transform.StartsWith("matrix", StringComparison.Ordinal) ? n : throw new FormatException(transform);
    }
}
