using PdfSharp;
using PdfSharp.Drawing;
using PdfSharp.Pdf;
using QRCoder;
using RigDaq.Core.Specimens;
using RigDaq.Reports.Pdf;

namespace RigDaq.Reports.Labels;

/// <summary>Specimen labels to print and cut apart: a two-dimensional code (ISO/IEC 18004) beside the label in words, on A4.</summary>
public static class LabelSheet
{
    /// <summary>Labels across a page.</summary>
    public const int Columns = 4;

    /// <summary>Labels down a page.</summary>
    public const int Rows = 10;

    private const double MarginMillimetres = 8;
    private const double PaddingMillimetres = 1.5;
    private const double CodeMillimetres = 19;
    private const double PointsPerMillimetre = 72 / 25.4;

    /// <summary>The sheet as PDF.</summary>
    /// <param name="study">The study whose specimens are labelled.</param>
    /// <param name="blind">Leaves the group off, so that who judges a fracture by eye is not led by it.</param>
    /// <exception cref="ArgumentException">The study has no specimens.</exception>
    public static byte[] Pdf(Study study, bool blind = false)
    {
        IReadOnlyList<SpecimenLabel> labels = SpecimenLabel.Of(study, blind);
        if (labels.Count == 0) throw new ArgumentException($"The study {study.Id} has no specimens to label.");
        lock (StudyReportPdf.Writing)
        {
            return Write(study, labels);
        }
    }

    private static byte[] Write(Study study, IReadOnlyList<SpecimenLabel> labels)
    {
        using var document = new PdfDocument();
        document.Info.Title = Text.ReportText.LabelsTitle(study);
        foreach (SpecimenLabel[] onPage in labels.Chunk(Columns * Rows))
        {
            PdfPage page = document.AddPage();
            page.Size = PageSize.A4;
            using XGraphics graphics = XGraphics.FromPdfPage(page);
            double width = (page.Width.Point - 2 * MarginMillimetres * PointsPerMillimetre) / Columns;
            double height = (page.Height.Point - 2 * MarginMillimetres * PointsPerMillimetre) / Rows;
            for (int i = 0; i < onPage.Length; i++)
            {
                var frame = new XRect(MarginMillimetres * PointsPerMillimetre + i % Columns * width,
                    MarginMillimetres * PointsPerMillimetre + i / Columns * height, width, height);
                Draw(graphics, frame, onPage[i]);
            }
        }

        using var stream = new MemoryStream();
        document.Save(stream, closeStream: false);
        return stream.ToArray();
    }

    private static void Draw(XGraphics graphics, XRect frame, SpecimenLabel label)
    {
        // A hairline to cut along.
        graphics.DrawRectangle(new XPen(XColors.LightGray, 0.4), frame);
        double padding = PaddingMillimetres * PointsPerMillimetre, size = CodeMillimetres * PointsPerMillimetre;
        DrawCode(graphics, new XRect(frame.X + padding, frame.Y + (frame.Height - size) / 2, size, size), label.Code);
        double left = frame.X + size + 2 * padding, room = frame.Right - padding - left, y = frame.Y + 2 * padding;
        y = DrawText(graphics, label.SpecimenId, PdfFonts.Bold(12), left, y, room) + 3;
        foreach (string line in label.Lines.SelectMany(line => line.Split(", ", StringSplitOptions.RemoveEmptyEntries)))
            y = DrawText(graphics, line, PdfFonts.Regular(6.5), left, y, room);
    }

    private static double DrawText(XGraphics graphics, string text, XFont font, double left, double y, double room)
    {
        // Long names are set smaller rather than cut: a label that lies is worse than one that needs good eyes.
        double wanted = graphics.MeasureString(text, font).Width;
        if (wanted > room) font = new XFont(font.Name2, font.Size * room / wanted, font.Style);
        graphics.DrawString(text, font, XBrushes.Black, left, y + font.Size);
        return y + font.Size * 1.25;
    }

    private static void DrawCode(XGraphics graphics, XRect frame, string content)
    {
        using QRCodeData code = QRCodeGenerator.GenerateQrCode(content, QRCodeGenerator.ECCLevel.M);
        int modules = code.ModuleMatrix.Count;
        double size = frame.Width / modules;
        for (int row = 0; row < modules; row++)
        {
            // Runs of dark modules are one rectangle each: no hairline gaps between them on screen or paper.
            for (int column = 0; column < modules; column++)
            {
                int start = column;
                while (column < modules && code.ModuleMatrix[row][column]) column++;
                if (column > start) graphics.DrawRectangle(XBrushes.Black, frame.X + start * size, frame.Y + row * size, (column - start)
                    * size, size * 1.02);
            }
        }
    }
}
