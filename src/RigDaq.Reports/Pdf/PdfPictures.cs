using PdfSharp.Drawing;
using RigDaq.Reports.Document;
using RigDaq.Reports.Pictures;
using SkiaSharp;

namespace RigDaq.Reports.Pdf;

/// <summary>The pictures of a report as drawings, not as dots: sharp at any size, their text real. The drawing library draws all of them
/// into one document of its own, a page each, which the report's pages then show; so its fonts are there once.</summary>
internal sealed class PdfPictures : IDisposable
{
    private static readonly PictureStyle Style = PictureStyle.Page;
    private readonly Dictionary<Picture, int> _pages = [];
    private readonly MemoryStream _drawn = new();
    private readonly XPdfForm? _form;

    public PdfPictures(IEnumerable<Block> blocks)
    {
        Picture[] pictures = [.. blocks.OfType<Figure>().Select(figure => figure.Picture)];
        if (pictures.Length == 0) return;
        using (var stream = new SKManagedWStream(_drawn))
        using (SKDocument document = SKDocument.CreatePdf(stream))
        {
            foreach (Picture picture in pictures)
            {
                picture.Draw(Style, (width, height) => document.BeginPage(width, height));
                document.EndPage();
                _pages[picture] = _pages.Count + 1;
            }

            document.Close();
        }

        _drawn.Position = 0;
        _form = XPdfForm.FromStream(_drawn);
    }

    /// <summary>The picture's page of the drawn document; to be used before the next is asked for.</summary>
    public XPdfForm Of(Picture picture)
    {
        _form!.PageNumber = _pages[picture];
        return _form;
    }

    public void Dispose()
    {
        _form?.Dispose();
        _drawn.Dispose();
    }
}
