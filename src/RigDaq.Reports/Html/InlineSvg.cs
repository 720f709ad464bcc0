using RigDaq.Reports.Pictures;

namespace RigDaq.Reports.Html;

/// <summary>A picture within a page. Its colours become the page's own, so that it turns dark with the page and light on paper; its inner
/// names are made unique, because all pictures of a page share one space of names.</summary>
internal static class InlineSvg
{
    private static readonly (string Hex, string Name)[] Colours = Names();

    public static string Of(Picture picture, string id)
    {
        string svg = picture.ToSvg(PictureStyle.Page);
        int start = svg.IndexOf("<svg", StringComparison.Ordinal);
        int end = svg.IndexOf('>', start);
        string head = svg[start..end];
        string size = $"viewBox=\"0 0 {Attribute(head, "width")} {Attribute(head, "height")}\"";
        string body = svg[(end + 1)..];
        foreach (var (hex, name) in Colours) body = body.Replace($"\"{hex}\"", $"\"var({name})\"", StringComparison.OrdinalIgnoreCase);
        body = body.Replace("id=\"", $"id=\"{id}-", StringComparison.Ordinal)
            .Replace("url(#", $"url(#{id}-", StringComparison.Ordinal)
            .Replace("xlink:href=\"#", $"href=\"#{id}-", StringComparison.Ordinal);
        return $"<svg {size} role=\"img\" aria-labelledby=\"{id}-title {id}-description\">\n" +
            $"<title id=\"{id}-title\">{Markup.Encoded(picture.Title)}</title>\n" +
            $"<desc id=\"{id}-description\">{Markup.Encoded(picture.Description)}</desc>" + body.TrimEnd() + "\n";
    }

    private static (string, string)[] Names()
    {
        PictureStyle page = PictureStyle.Page;
        return
        [
            (Rgb(page.Ink), "--ink"), (Rgb(page.Muted), "--muted"), (Rgb(page.GridLine), "--line"), (Rgb(page.Ground), "--ground"),
                (Rgb(page.Band), "--band"),
            .. PictureStyle.LightSeries.Select((hex, i) => (hex, $"--series-{i + 1}")),
        ];
    }

    private static string Rgb(ScottPlot.Color color) => $"#{color.R:x2}{color.G:x2}{color.B:x2}";

    private static string Attribute(string head, string name)
    {
        int start = head.IndexOf($"{name}=\"", StringComparison.Ordinal) + name.Length + 2;
        return head[start..head.IndexOf('"', start)];
    }
}
