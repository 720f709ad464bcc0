using System.Globalization;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Recording;
using RigDaq.Core.Quantities;
using RigDaq.Reports.Pictures;
using RigDaq.Reports.Text;

namespace RigDaq.Reports.Document;

/// <summary>A calibration record as a document of its own; what it says is settled in <see cref="CalibrationDocument"/>.</summary>
internal static class CalibrationRecordDocument
{
    public static ReportDocument Of(CalibrationRecord calibration, Units units)
    {
        CalibrationDocument content = CalibrationDocument.Of(calibration, units: units);
        return new ReportDocument(content.Title, content.Result, [.. Blocks(calibration, content, units)]);
    }

    private static IEnumerable<Block> Blocks(CalibrationRecord calibration, CalibrationDocument content, Units units)
    {
        yield return new Paragraph(CalibrationDocument.Statement, ParagraphKind.Caution);
        if (content.Warnings.Count > 0) yield return new Bullets(content.Warnings);
        yield return new Heading(ReportText.RecordAboutHeading);
        yield return new Facts([.. content.Facts.Select(fact => (fact.Name, fact.Value))]);
        yield return new Heading(ReportText.RecordFiguresHeading);
        if (ResidualPicture.Of(calibration, units) is { } residuals) yield return new Figure(residuals);
        foreach (DocumentTable table in content.Tables) yield return Set(table);
        yield return new Heading(ReportText.RecordMethodHeading);
        yield return new Bullets(content.Method);
    }

    private static Table Set(DocumentTable table) => new(
        table.Caption,
        [.. table.Columns
            .Select((column, i) => new Column(column, column != ReportText.SeriesColumn && table.Rows.All(row => IsFigure(row[i]))))],
        table.Rows,
        table.Note);

    private static bool IsFigure(string cell) => cell.Length == 0 || cell is "–" or "∞"
        || double.TryParse(cell.Replace('−', '-'), NumberStyles.Float, CultureInfo.InvariantCulture, out _);
}
