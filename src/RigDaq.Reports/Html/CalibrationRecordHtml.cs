using RigDaq.Core.Calibration;
using RigDaq.Reports.Document;

namespace RigDaq.Reports.Html;

/// <summary>A calibration record as one HTML file: no script, no other file, fit to print.</summary>
public static class CalibrationRecordHtml
{
    /// <summary>Writes it.</summary>
    /// <param name="calibration">The calibration.</param>
    /// <returns>The whole file.</returns>
    public static string Render(CalibrationRecord calibration) => HtmlPage.Render(CalibrationRecordDocument.Of(calibration));
}
