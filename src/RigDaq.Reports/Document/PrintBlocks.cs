using RigDaq.Core.Specimens;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;

namespace RigDaq.Reports.Document;

/// <summary>Conditioning and printing, as far as it was noted.</summary>
internal static class PrintBlocks
{
    public static IEnumerable<Block> Of(StudyReportModel model)
    {
        Print[] noted = [.. model.Study.Prints.Where(print => print.Record is not null)];
        if (noted.Length == 0) yield break;
        yield return new Table(
            ReportText.PrintsCaption,
            [
                new(ReportText.PrintColumn), new(ReportText.GroupColumn), new(ReportText.StorageColumn), new(ReportText.DryingColumn),
                new(ReportText.WhilePrintingColumn), new(ReportText.PrinterColumn), new(ReportText.NotesColumn),
            ],
            [.. noted.Select(print => Row(model, print, print.Record!))]);
    }

    private static string[] Row(StudyReportModel model, Print print, PrintRecord record) =>
    [
        print.Id,
        print.Describe(model.Study.SettingUnit),
        Or(string.Join("; ", record.Storage.Select(ReportText.StorageWords))),
        Or(string.Join("; ", record.Drying.Select(ReportText.DryingWords))),
        Or(string.Join("; ", new[]
        {
            record.WhilePrinting is { } spell ? ReportText.StorageWords(spell) : "",
            record.ChamberTemperatureCelsius is { } chamber ? ReportText.Chamber(chamber) : "",
        }.Where(part => part.Length > 0))),
        Or(string.Join("; ", record.PrinterSettings.Select(ReportText.PrinterSettingWords))),
        Or(record.Notes),
    ];

    private static string Or(string text) => text.Length == 0 ? ReportText.None : text;
}
