using System.Globalization;
using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Recording;
using RigDaq.Reports.Pictures;

namespace RigDaq.Reports.Document;

/// <summary>A calibration record as a document of its own; what it says is settled in <see cref="CalibrationDocument"/>.</summary>
internal static class CalibrationRecordDocument
{
    public static ReportDocument Of(CalibrationRecord calibration)
    {
        CalibrationDocument content = CalibrationDocument.Of(calibration);
        return new ReportDocument(content.Title, content.Result, [.. Blocks(calibration, content)]);
    }

    private static IEnumerable<Block> Blocks(CalibrationRecord calibration, CalibrationDocument content)
    {
        yield return new Paragraph(CalibrationDocument.Statement, ParagraphKind.Caution);
        if (content.Warnings.Count > 0) yield return new Bullets(content.Warnings);
        yield return new Heading("What it is about");
        yield return new Facts([.. content.Facts.Select(fact => (fact.Name, fact.Value))]);
        yield return new Heading("Figures");
        if (ResidualPicture.Of(calibration) is { } residuals) yield return new Figure(residuals);
        foreach (DocumentTable table in content.Tables) yield return Set(table);
        yield return new Heading("How the figures were had");
        yield return new Bullets(content.Method);
    }

    private static Table Set(DocumentTable table) => new(
        table.Caption,
        [.. table.Columns.Select((column, i) => new Column(column, column != "series" && table.Rows.All(row => IsFigure(row[i]))))],
        table.Rows,
        table.Note);

    private static bool IsFigure(string cell) =>
        cell.Length == 0 || cell is "–" or "∞" || double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out _);
}
