using PdfSharp.Pdf;
using RigDaq.Reports.Document;
using RigDaq.Reports.Model;

namespace RigDaq.Reports.Pdf;

/// <summary>The report of a study as PDF: A4, tagged for screen readers, fonts embedded. It says what the HTML says.</summary>
public static class StudyReportPdf
{
    // The library keeps its fonts in static tables.
    internal static readonly Lock Writing = new();

    /// <summary>Writes it.</summary>
    /// <param name="model">What it says.</param>
    /// <returns>The whole file.</returns>
    public static byte[] Render(StudyReportModel model)
    {
        ReportDocument report = StudyDocument.Of(model);
        lock (Writing)
        {
            using var document = new PdfDocument();
            document.Info.Title = report.Title;
            document.Info.Subject = report.Subtitle;
            document.Info.Creator = Text.ReportText.Program(model.Version);
            document.Info.CreationDate = model.WrittenAt.UtcDateTime;
            using var pictures = new PdfPictures(report.Blocks);
            using (var flow = new PdfFlow(document, report.Title)) new PdfBlocks(flow, pictures).Draw(report);
            using var file = new MemoryStream();
            document.Save(file);
            return file.ToArray();
        }
    }
}
