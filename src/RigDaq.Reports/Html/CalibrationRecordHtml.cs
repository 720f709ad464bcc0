using RigDaq.Core.Calibration;
using RigDaq.Core.Quantities;
using RigDaq.Reports.Document;

namespace RigDaq.Reports.Html;

/// <summary>A calibration record as one HTML file: no script, no other file, fit to print.</summary>
public static class CalibrationRecordHtml
{
    /// <summary>Writes it.</summary>
    /// <param name="calibration">The calibration.</param>
    /// <param name="units">What a person reads; null for SI.</param>
    /// <returns>The whole file.</returns>
    public static string Render(CalibrationRecord calibration, Units? units = null) =>
        HtmlPage.Render(CalibrationRecordDocument.Of(calibration, units ?? Units.Si));
}
