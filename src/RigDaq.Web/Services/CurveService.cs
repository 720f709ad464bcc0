using System.Globalization;
using RigDaq.App;
using RigDaq.App.Curves;
using RigDaq.App.Input;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core;
using RigDaq.Core.Pulls;
using RigDaq.Core.Specimens;
using RigDaq.Core.Trace;
using RigDaq.Reports.Pictures;
using RigDaq.Tables;
using RigDaq.Tables.Readings;
using RigDaq.Web.Views;

namespace RigDaq.Web.Services;

/// <summary>Shows how files of other programs are read, and makes runs of a study from them.</summary>
internal sealed class CurveService(RigArchive archive, RunShelf shelf, IDashboardData data, TimeProvider time)
{
    // So many curves of a file are drawn; the others are told in words.
    private const int DrawnMax = 12;

    /// <summary>The kept layouts.</summary>
    internal LayoutStore Layouts { get; } = new(shelf.DataFolder);

    internal CurvesStartView Start(bool mayChange) =>
        new(mayChange, Layouts.Names(), [.. shelf.Studies.All().Take(100).Select(study => study.Id)]);

    /// <summary>How a file is read, and what its curves show.</summary>
    internal CurvesView Read(string name, byte[] bytes, ReadingOptions options, bool dark)
    {
        TableReading reading = RecordedTable.Read(bytes, options);
        var curves = new List<CurveView>();
        foreach (RecordedCurve curve in reading.Curves.Where(curve => !curve.InCounts))
        {
            AnalysedTrace trace = new RecordedTrace(curve).Analyse(null, new DetectionSettings(), null);
            string title = curve.Name.Length > 0 ? curve.Name : name;
            string? svg = curves.Count < DrawnMax
                ? MarkedTracePicture.Of(title, trace, data.Units).ToSvg(PictureStyle.Page with { Dark = dark }) : null;
            curves.Add(new CurveView(
                title, trace.Reading.Ending.Spoken(), trace.Reading.PeakForceNewtons, trace.Reading.BreakForceNewtons,
                    trace.Reading.SampleRateHertz,
                curve.Values.Length, svg,
                    Core.Quantities.UnitWords.In([.. curve.Warnings, .. trace.Reading.Warnings], data.Units)));
        }

        IReadOnlyList<string> warnings = reading.Curves.Any(curve => curve.InCounts)
            ? [.. reading.Warnings, AppText.CurvesInCounts] : reading.Warnings;
        return new CurvesView(
            name, reading.Encoding, reading.Sheet, reading.Sheets, reading.Separator, reading.DecimalMark, reading.HeaderLine,
                reading.FirstLine, reading.TimesFrom,
            [.. reading.Columns.Select(TraceReadColumn.Of)], reading.Preview,
                [.. reading.Faults.Select(fault => fault.ToString())], warnings, curves);
    }

    /// <summary>The rows of a table that says whose each curve is.</summary>
    /// <exception cref="InputException">The message has every fault, one a line.</exception>
    internal static CurvesTableView Table(string name, byte[] bytes)
    {
        var remarks = new List<string>();
        IReadOnlyList<CurveRow> rows = CurveRows.Read(name, bytes, remarks.Add);
        return new CurvesTableView([.. rows.Select(CurvesRowView.Of)], remarks);
    }

    /// <summary>Makes runs of the curves of a file.</summary>
    internal Result Keep(string name, byte[] bytes, ReadingOptions options, CurvesRequest ask)
    {
        if (name.Length == 0 || ask.Study.Length == 0 || ask.Material.Length == 0
            || ask.Condition.Length == 0) return Result.Refused("answers.curvesGroup");
        CurveSource source = CurveSource.Of(Path.GetFileName(name), bytes, options);
        if (source.Reading.Faults.Count > 0) return Result.Because([.. source.Reading.Faults.Select(fault =>
            fault.ToString())]);
        decimal? setting = null;
        if (ask.Setting.Length > 0)
        {
            if (!decimal.TryParse(ask.Setting.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture,
                out decimal typed))
                return Result.Refused("answers.curvesNumber", ("typed", ask.Setting));
            setting = typed;
        }

        SectionMeasurement? section;
        PullEnding? ending;
        try
        {
            ending = CurveRows.EndingOf(ask.Ending);
            double? area = Readings(ask.Area) is [var typed] ? typed
                : null, uncertainty = Readings(ask.AreaUncertainty) is [var own] ? own : null;
            section = CurveRows.SectionOf(Readings(ask.Width), Readings(ask.Thickness), area, uncertainty);
        }
        catch (RefusalException refusal)
        {
            return Result.Because(refusal.Message);
        }

        if (ask.SaveLayout.Length > 0) Layouts.Save(ask.SaveLayout, source.Reading.Used);
        var group = new GroupKey(ask.Material, ask.Condition, setting);
        RecordedCurve[] wanted = [.. source.Reading.Curves
            .Where(curve => ask.Curve.Length == 0 || curve.Name.Equals(ask.Curve, StringComparison.OrdinalIgnoreCase))];
        string[] names = [.. source.Reading.Curves.Select(curve => curve.Name)];
        if (wanted.Length == 0 || (ask.Specimen.Length > 0 && wanted.Length > 1))
            return Result.Because(AppText.CurveRowWhich(ask.Curve, names));
        CurveOfSpecimen[] curves = [.. wanted.Select(curve =>
            new CurveOfSpecimen(source, curve,
                new CurveRow(0, source.Name, curve.Name, ask.Specimen, group, ask.Print, section, ending)))];
        Study study = shelf.Studies.Find(ask.Study)
            ?? new Study { Id = ask.Study, Name = ask.Study, CreatedAt = time.GetUtcNow() };
        CurvesJoined joined = new StudyCurves(archive, archive, archive.Calibrations, time)
            .Join(study, curves, new DetectionSettings(), keep: true);
        return Result.Ok(joined.Runs.Count == 0
            ? PageText.Of("answers.curvesThere", ("file", source.Name))
                : PageText.Of("answers.curvesKept", ("n", joined.Runs.Count), ("study", ask.Study)));
    }

    private static double[] Readings(string typed) =>
        [.. typed.Split([' ', '/', ';'], StringSplitOptions.RemoveEmptyEntries)
            .Select(text => double.TryParse(text.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture,
            out double value)
            ? value : throw new InputException(PageText.Of("answers.curvesNumber", ("typed", text))))];
}
