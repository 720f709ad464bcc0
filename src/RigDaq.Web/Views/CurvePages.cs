using RigDaq.App.Curves;
using RigDaq.App.Input;
using RigDaq.App.Overview;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Trace;
using RigDaq.Reports.Pictures;
using RigDaq.Tables;
using RigDaq.Tables.Readings;
using RigDaq.Text;

namespace RigDaq.Web.Views;

/// <summary>What the page of curves shows.</summary>
internal sealed class CurvePages(RigArchive archive, CurveService curves, IDashboardData data)
{
    // So many curves of a file are drawn; the others are told in words.
    private const int DrawnMax = 12;

    internal CurvesStartView Start(bool mayChange) =>
        new(mayChange, curves.Layouts.Names(), [.. archive.Studies.All().Take(100).Select(study => study.Id)]);

    /// <summary>How a file is read, and what its curves show.</summary>
    internal CurvesView Read(string name, byte[] bytes, ReadingOptions options, bool dark)
    {
        TableReading reading = RecordedTable.Read(bytes, options);
        var shown = new List<CurveView>();
        foreach (RecordedCurve curve in reading.Curves.Where(curve => !curve.InCounts))
        {
            AnalysedTrace trace = new RecordedTrace(curve).Analyse(null, new DetectionSettings(), null);
            string title = curve.Name.Length > 0 ? curve.Name : name;
            string? svg = shown.Count < DrawnMax
                ? MarkedTracePicture.Of(title, trace, data.Units).ToSvg(PictureStyle.Page with { Dark = dark }) : null;
            shown.Add(new CurveView(title, trace.Reading.Ending.Spoken(), trace.Reading.PeakForceNewtons, trace.Reading.BreakForceNewtons,
                trace.Reading.SampleRateHertz, curve.Values.Length, svg,
                ((Sentence[])[.. curve.Warnings, .. trace.Reading.Warnings]).In(data.Units)));
        }

        Sentence[] ofCounts = reading.Curves.Any(curve => curve.InCounts) ? [AppText.CurvesInCounts] : [];
        string[] warnings = reading.Warnings.Concat(ofCounts).In(data.Units);
        return new CurvesView(name, reading.Encoding, reading.Sheet, reading.Sheets, reading.Separator, reading.DecimalMark,
            reading.HeaderLine, reading.FirstLine, reading.TimesFrom, [.. reading.Columns.Select(TraceReadColumn.Of)], reading.Preview,
            [.. reading.Faults.Select(fault => fault.ToString())], warnings, shown);
    }

    /// <summary>The rows of a table that says whose each curve is.</summary>
    /// <exception cref="InputException">The message has every fault, one a line.</exception>
    internal static CurvesTableView Table(string name, byte[] bytes)
    {
        var remarks = new List<string>();
        IReadOnlyList<CurveRow> rows = CurveRows.Read(name, bytes, remarks.Add);
        return new CurvesTableView([.. rows.Select(CurvesRowView.Of)], remarks);
    }
}
