using PdfSharp.Drawing;
using PdfSharp.UniversalAccessibility;
using RigDaq.Reports.Document;
using RigDaq.Reports.Pictures;

namespace RigDaq.Reports.Pdf;

/// <summary>Sets the blocks of a report on pages.</summary>
internal sealed class PdfBlocks
{
    private const double TextSize = 9.5;
    private const double TextLeading = 13;
    private const double NoteSize = 8;
    private const double Inset = 10;
    private const double FactNameWidth = 145;
    private const double HeadingHeight = 36;
    private const double TextStartHeight = 94;
    private const double FigureTitleHeight = 28;
    private readonly PdfFlow _flow;
    private readonly PdfPictures _pictures;

    public PdfBlocks(PdfFlow flow, PdfPictures pictures) => (_flow, _pictures) = (flow, pictures);

    public void Draw(ReportDocument report)
    {
        Text(report.Title, PdfFonts.Bold(19), 23, PdfInk.Plain, PdfBlockLevelElementTag.Heading1);
        _flow.Y += 2;
        Text(report.Subtitle, PdfFonts.Regular(TextSize), TextLeading, PdfInk.Muted, PdfBlockLevelElementTag.Paragraph);
        foreach (var (block, next) in report.Blocks.Zip([.. report.Blocks.Skip(1), null]))
        {
            // A heading does not end a page.
            if (block is Heading) _flow.Need(HeadingHeight + StartHeight(next));
            Draw(block);
        }
    }

    // How much of a block must follow its heading on the page.
    private double StartHeight(Block? block) => block switch
    {
        Table table => new PdfTable(_flow, table).StartHeight,
        Figure figure => SizeOf(figure.Picture).Height + FigureTitleHeight,
        _ => TextStartHeight,
    };

    private void Draw(Block block)
    {
        switch (block)
        {
            case Heading heading:
                _flow.Y += 16;
                Text(heading.Text, PdfFonts.Bold(13), 17, PdfInk.Plain, PdfBlockLevelElementTag.Heading2);
                _flow.Y += 3;
                break;
            case Paragraph { Kind: ParagraphKind.Caution } caution:
                Caution(caution.Text);
                break;
            case Paragraph paragraph:
                bool note = paragraph.Kind == ParagraphKind.Note;
                _flow.Y += 4;
                Text(paragraph.Text, PdfFonts.Regular(note ? NoteSize : TextSize), note ? 11 : TextLeading, note ? PdfInk.Muted
                    : PdfInk.Plain, PdfBlockLevelElementTag.Paragraph);
                break;
            case Bullets bullets:
                List(bullets);
                break;
            case Facts facts:
                foreach (var (name, value) in facts.Items) Fact(name, value);
                _flow.Y += 4;
                break;
            case Table table:
                _flow.Y += 8;
                new PdfTable(_flow, table).Draw();
                if (table.Note.Length > 0) Draw(new Paragraph(table.Note, ParagraphKind.Note));
                break;
            case Figure figure:
                Figure(figure.Picture);
                break;
            default:
                throw new NotSupportedException($"A block that PDF does not know: {block.GetType().Name}.");
        }
    }

    private void Text(string text, XFont font, double leading, XBrush brush, PdfBlockLevelElementTag tag)
    {
        // A paragraph that runs over a page is two to a screen reader; better than a hole in the page.
        List<string> lines = PdfWrap.Lines(_flow.Graphics, text, font, _flow.Width);
        for (int at = 0; at < lines.Count;)
        {
            _flow.Need(leading);
            int fit = Math.Clamp((int)((_flow.Bottom - _flow.Y) / leading), 1, lines.Count - at);
            _flow.Tags.BeginElement(tag);
            for (int i = 0; i < fit; i++) Line(lines[at + i], font, leading, brush, PdfFlow.Margin);
            _flow.Tags.End();
            at += fit;
        }
    }

    private void Line(string text, XFont font, double leading, XBrush brush, double x)
    {
        _flow.Y += leading;
        _flow.Graphics.DrawString(text, font, brush, new XPoint(x, _flow.Y - (leading * .25)));
    }

    private void Caution(string text)
    {
        XFont font = PdfFonts.Regular(TextSize);
        List<string> lines = PdfWrap.Lines(_flow.Graphics, text, font, _flow.Width - (2 * Inset));
        double height = (lines.Count * TextLeading) + Inset;
        _flow.Need(height + 8);
        _flow.Y += 8;
        _flow.Tags.BeginArtifact();
        _flow.Graphics.DrawRectangle(PdfInk.WarningGround, PdfFlow.Margin, _flow.Y, _flow.Width, height);
        _flow.Graphics.DrawRectangle(PdfInk.Warning, PdfFlow.Margin, _flow.Y, 3, height);
        _flow.Tags.End();
        _flow.Y += Inset / 2;
        _flow.Tags.BeginElement(PdfBlockLevelElementTag.Paragraph);
        foreach (string line in lines) Line(line, font, TextLeading, PdfInk.Warning, PdfFlow.Margin + Inset);
        _flow.Tags.End();
        _flow.Y += Inset / 2;
    }

    private void List(Bullets bullets)
    {
        XFont font = PdfFonts.Regular(bullets.Large ? 10.5 : TextSize);
        double leading = bullets.Large ? 14.5 : TextLeading;
        _flow.Tags.BeginElement(PdfBlockLevelElementTag.List);
        foreach (string item in bullets.Items)
        {
            List<string> lines = PdfWrap.Lines(_flow.Graphics, item, font, _flow.Width - Inset);
            _flow.Need((lines.Count * leading) + 4);
            _flow.Y += 4;
            _flow.Tags.BeginArtifact();
            if (bullets.Large) _flow.Graphics.DrawRectangle(PdfInk.Mark, PdfFlow.Margin, _flow.Y, 2.5, lines.Count * leading);
            else _flow.Graphics.DrawEllipse(PdfInk.Muted, PdfFlow.Margin + 1, _flow.Y + (leading * .42), 2.6, 2.6);
            _flow.Tags.End();
            _flow.Tags.BeginElement(PdfBlockLevelElementTag.ListItem);
            _flow.Tags.BeginElement(PdfBlockLevelElementTag.ListBody);
            foreach (string line in lines) Line(line, font, leading, PdfInk.Plain, PdfFlow.Margin + Inset);
            _flow.Tags.End();
            _flow.Tags.End();
        }

        _flow.Tags.End();
        _flow.Y += 2;
    }

    private void Fact(string name, string value)
    {
        XFont font = PdfFonts.Regular(TextSize);
        List<string> lines = PdfWrap.Lines(_flow.Graphics, value, font, _flow.Width - FactNameWidth);
        _flow.Need(lines.Count * TextLeading);
        _flow.Tags.BeginElement(PdfBlockLevelElementTag.Paragraph);
        double top = _flow.Y;
        Line(name, font, TextLeading, PdfInk.Muted, PdfFlow.Margin);
        _flow.Y = top;
        foreach (string line in lines) Line(line, font, TextLeading, PdfInk.Plain, PdfFlow.Margin + FactNameWidth);
        _flow.Tags.End();
    }

    private void Figure(Picture picture)
    {
        XSize size = SizeOf(picture);
        _flow.Need(size.Height + FigureTitleHeight);
        _flow.Y += 10;
        Text(picture.Title, PdfFonts.Bold(TextSize), TextLeading, PdfInk.Plain, PdfBlockLevelElementTag.Paragraph);
        _flow.Y += 3;
        var place = new XRect(new XPoint(PdfFlow.Margin, _flow.Y), size);
        _flow.Tags.BeginElement(PdfIllustrationElementTag.Figure, picture.Description, place);
        _flow.Graphics.DrawImage(_pictures.Of(picture), place);
        _flow.Tags.End();
        _flow.Y += size.Height + 4;
    }

    // As wide as the page, or as high.
    private XSize SizeOf(Picture picture)
    {
        XPdfForm drawing = _pictures.Of(picture);
        double height = _flow.Width * drawing.PointHeight / drawing.PointWidth;
        double room = _flow.Bottom - PdfFlow.Margin - 20;
        return height > room ? new XSize(_flow.Width * room / height, room) : new XSize(_flow.Width, height);
    }
}
