using PdfSharp.Pdf;
using RigDaq.Core.Calibration;
using RigDaq.Core.Quantities;
using RigDaq.Reports.Document;

namespace RigDaq.Reports.Pdf;

/// <summary>A calibration record as PDF: A4, tagged, fonts embedded. It says what the HTML says.</summary>
public static class CalibrationRecordPdf
{
    /// <summary>Writes it.</summary>
    /// <param name="calibration">The calibration.</param>
    /// <param name="units">What a person reads; null for SI.</param>
    /// <returns>The whole file.</returns>
    public static byte[] Render(CalibrationRecord calibration, Units? units = null)
    {
        ReportDocument report = CalibrationRecordDocument.Of(calibration, units ?? Units.Si);
        lock (StudyReportPdf.Writing)
        {
            using var document = new PdfDocument();
            document.Info.Title = report.Title;
            document.Info.Subject = report.Subtitle;
            document.Info.Creator = Text.ReportText.Creator;
            document.Info.CreationDate = calibration.AcceptedAt.UtcDateTime;
            using var pictures = new PdfPictures(report.Blocks);
            using (var flow = new PdfFlow(document, report.Title)) new PdfBlocks(flow, pictures).Draw(report);
            using var file = new MemoryStream();
            document.Save(file);
            return file.ToArray();
        }
    }
}
