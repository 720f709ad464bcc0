using System.Globalization;
using System.Text;
using RigDaq.Reports.Document;
using RigDaq.Reports.Fonts;
using RigDaq.Reports.Text;
using RigDaq.Text;

namespace RigDaq.Reports.Html;

/// <summary>Sets a document as HTML. Every text is encoded: a name with a &lt; in it cannot become markup.</summary>
internal static class HtmlPage
{
    public static string Render(ReportDocument document)
    {
        var page = new StringBuilder(64 * 1024);
        page.Append("<!DOCTYPE html>\n<html lang=\"").Append(Language.Current.Name).Append("\">\n<head>\n<meta charset=\"utf-8\">\n");
        page.Append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
        page.Append("<meta name=\"color-scheme\" content=\"light dark\">\n");
        page.Append("<title>").Append(Markup.Encoded(document.Title)).Append("</title>\n<style>\n");
        page.Append(EmbeddedFonts.Text("report.css")).Append("</style>\n</head>\n<body>\n<main>\n<header>\n<h1>");
        page.Append(Markup.Encoded(document.Title)).Append("</h1>\n<p class=\"subtitle\">").Append(Markup.Encoded(document.Subtitle))
            .Append("</p>\n</header>\n");
        int figures = 0;
        bool open = false;
        foreach (Block block in document.Blocks)
        {
            if (block is Heading heading)
            {
                if (open) page.Append("</section>\n");
                page.Append("<section>\n<h2>").Append(Markup.Encoded(heading.Text)).Append("</h2>\n");
                open = true;
                continue;
            }

            Append(page, block, ref figures);
        }

        if (open) page.Append("</section>\n");
        return page.Append("</main>\n</body>\n</html>\n").ToString();
    }

    private static void Append(StringBuilder page, Block block, ref int figures)
    {
        switch (block)
        {
            case Paragraph paragraph:
                string kind = paragraph.Kind switch
                {
                    ParagraphKind.Caution => " class=\"caution\"",
                    ParagraphKind.Note => " class=\"note\"",
                    ParagraphKind.Lead => " class=\"lead\"",
                    _ => ""
                };
                page.Append(CultureInfo.InvariantCulture, $"<p{kind}>{Markup.Encoded(paragraph.Text)}</p>\n");
                break;
            case Bullets bullets:
                page.Append(bullets.Large ? "<ul class=\"claims\">\n" : "<ul>\n");
                foreach (string item in bullets.Items)
                    page.Append("<li>").Append(Markup.Encoded(bullets.Large ? FigureAndUnit.Joined(item) : item)).Append("</li>\n");
                page.Append("</ul>\n");
                break;
            case Facts facts:
                page.Append("<dl>\n");
                foreach (var (name, value) in facts.Items) page
                    .Append(CultureInfo.InvariantCulture, $"<dt>{Markup.Encoded(name)}</dt><dd>{Markup.Encoded(value)}</dd>\n");
                page.Append("</dl>\n");
                break;
            case Table table:
                Append(page, table);
                break;
            case Figure figure:
                figures++;
                page.Append("<figure>\n<figcaption>").Append(Markup.Encoded(figure.Picture.Title)).Append("</figcaption>\n");
                page.Append(InlineSvg.Of(figure.Picture, $"figure-{figures.ToString(CultureInfo.InvariantCulture)}")).Append("</figure>\n");
                break;
            default:
                throw new NotSupportedException($"A block that HTML does not know: {block.GetType().Name}.");
        }
    }

    private static void Append(StringBuilder page, Table table)
    {
        // A region that scrolls must be reachable by keyboard, and then it needs a name.
        page.Append(CultureInfo.InvariantCulture,
            $"<section class=\"scrolls\" tabindex=\"0\" aria-label=\"{Markup.Encoded(table.Caption)}\">\n<table>\n");
        page.Append("<caption>").Append(Markup.Encoded(table.Caption)).Append("</caption>\n<thead><tr>");
        foreach (Column column in table.Columns)
        {
            page.Append(column.Numbers ? "<th scope=\"col\" class=\"number\">" : "<th scope=\"col\">").Append(Markup.Encoded(column.Header))
                .Append("</th>");
        }

        page.Append("</tr></thead>\n<tbody>\n");
        foreach (IReadOnlyList<string> row in table.Rows)
        {
            page.Append("<tr>");
            for (int i = 0; i < row.Count; i++)
            {
                string tag = i == 0 ? "th" : "td";
                page.Append('<').Append(tag);
                if (i == 0) page.Append(" scope=\"row\"");
                if (table.Columns[i].Numbers) page.Append(" class=\"number\"");
                page.Append('>').Append(Markup.Encoded(row[i])).Append("</").Append(tag).Append('>');
            }

            page.Append("</tr>\n");
        }

        page.Append("</tbody>\n</table>\n</section>\n");
        if (table.Note.Length > 0) page.Append("<p class=\"note\">").Append(Markup.Encoded(table.Note)).Append("</p>\n");
    }
}
