using RigDaq.Reports.Document;
using RigDaq.Reports.Model;

namespace RigDaq.Reports.Html;

/// <summary>The report of a study as one HTML file: no script, no other file, light and dark, fit to print.</summary>
public static class StudyReportHtml
{
    /// <summary>Writes it.</summary>
    /// <param name="model">What it says.</param>
    /// <returns>The whole file.</returns>
    public static string Render(StudyReportModel model) => HtmlPage.Render(StudyDocument.Of(model));
}
