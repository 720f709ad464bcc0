using PdfSharp;
using PdfSharp.Drawing;
using PdfSharp.Pdf;
using PdfSharp.UniversalAccessibility;
using RigDaq.Text;

namespace RigDaq.Reports.Pdf;

/// <summary>Pages one after another, and where on the page the next thing goes. Lengths are in points, 1/72 inch.</summary>
internal sealed class PdfFlow : IDisposable
{
    public const double Margin = 45;
    private const double FooterSize = 8;
    private readonly PdfDocument _document;
    private readonly UAManager _tags;
    private readonly string _footer;
    private XGraphics? _graphics;
    private PdfPage? _page;
    private int _pages;

    public PdfFlow(PdfDocument document, string footer)
    {
        _document = document;
        _footer = footer;
        // Tags tell a screen reader what is a heading, a table, a picture; they must be there before the first page.
        _tags = UAManager.ForDocument(document);
        _tags.SetDocumentLanguage(Language.Current.Name);
        NewPage();
    }

    public XGraphics Graphics => _graphics!;

    public StructureBuilder Tags => _tags.StructureBuilder;

    /// <summary>Where the next thing starts, from the top.</summary>
    public double Y { get; set; }

    public double Width => _page!.Width.Point - (2 * Margin);

    public double Bottom => _page!.Height.Point - Margin - (2 * FooterSize);

    /// <summary>Makes sure that so much room is left on the page.</summary>
    /// <returns>Whether a new page was begun for it.</returns>
    public bool Need(double height)
    {
        if (Y + height <= Bottom || Y <= Margin) return false;
        NewPage();
        return true;
    }

    public void NewPage()
    {
        _graphics?.Dispose();
        _page = _document.AddPage();
        _page.Size = PageSize.A4;
        _graphics = XGraphics.FromPdfPage(_page);
        _pages++;
        Y = Margin;
        Tags.BeginArtifact();
        XFont font = PdfFonts.Regular(FooterSize);
        string number = _pages.ToString(System.Globalization.CultureInfo.InvariantCulture);
        double baseline = _page.Height.Point - Margin + FooterSize;
        Graphics.DrawString(PdfWrap.Fit(Graphics, _footer, font, Width - 40), font, PdfInk.Muted, new XPoint(Margin, baseline));
        Graphics.DrawString(number, font, PdfInk.Muted, new XPoint(Margin + Width - Graphics.MeasureString(number, font).Width, baseline));
        Tags.End();
    }

    public void Dispose() => _graphics?.Dispose();
}
