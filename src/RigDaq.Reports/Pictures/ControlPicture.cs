using RigDaq.Core.Calibration.Watching;
using RigDaq.Core.Quantities;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>The check weight's control chart: each reading, the limits of single readings, the moving average with its own.</summary>
internal static class ControlPicture
{
    private const int LeastPoints = 2;

    /// <summary>Null where there are too few readings to draw.</summary>
    /// <param name="calibrationId">The calibration.</param>
    /// <param name="checkWeight">What the check weight says under it.</param>
    /// <param name="units">What a person reads.</param>
    /// <param name="simulated">Whether its device is known to be a virtual rig, which is then said on the picture.</param>
    public static Picture? Of(string calibrationId, CheckWeight checkWeight, Units units, bool simulated = false)
    {
        if (checkWeight.Points.Count < LeastPoints) return null;
        return new Picture("check-weight-" + FileName.Of(calibrationId), ReportText.ControlTitle,
            ReportText.ControlDescription(checkWeight.Points.Count, checkWeight.Sentence.In(units)),
            style => Draw(style, checkWeight, units.Force, units, simulated), style => style.HeightPixels * 7 / 10);
    }

    private static Plot Draw(PictureStyle style, CheckWeight checkWeight, Unit unit, Units units, bool simulated)
    {
        Plot plot = Canvas.Make(style, ReportText.ControlAxis(checkWeight.Points[0].At, checkWeight.Points[^1].At),
            ReportText.ForceAxis(units));
        Canvas.Title(plot, style, ReportText.ControlTitle);
        CheckWeightPoint[] points = [.. checkWeight.Points];
        double[] numbers = [.. points.Select((_, i) => i + 1.0)];
        double[] forces = [.. points.Select(point => unit.Of(point.ForceNewtons))];
        if (checkWeight.Individuals is { } chart)
        {
            plot.Add.HorizontalLine(unit.Of(chart.Centre), 1.5f, style.Ink);
            foreach (double limit in new[] { chart.Lower, chart.Upper }) plot.Add.HorizontalLine(unit.Of(limit), 1.5f, style.Muted,
                LinePattern.Dashed);
        }

        var line = plot.Add.ScatterLine(numbers, forces, style.Series(0).WithAlpha(.4));
        line.LineWidth = 1;
        var marks = plot.Add.Markers(numbers, forces, PictureStyle.Shape(0), 7, style.Series(0));
        marks.MarkerStyle.LineColor = style.Series(0);
        marks.LegendText = ReportText.ControlReadings(points.Length);
        int[] averaged = [.. Enumerable.Range(0, points.Length).Where(i => points[i].AverageNewtons is not null)];
        if (averaged.Length > 0)
        {
            double[] at = [.. averaged.Select(i => numbers[i])];
            var average = plot.Add.ScatterLine(at, [.. averaged.Select(i => unit.Of(points[i].AverageNewtons!.Value))], style.Series(1));
            average.LineWidth = 2.5f;
            average.LegendText = ReportText.ControlAverage;
            foreach (Func<CheckWeightPoint, double?> side in new Func<CheckWeightPoint,
                double?>[] { point => point.AverageLowerNewtons, point => point.AverageUpperNewtons })
            {
                var limit = plot.Add.ScatterLine(at, [.. averaged.Select(i => unit.Of(side(points[i])!.Value))],
                    style.Series(1).WithAlpha(.6));
                limit.LinePattern = LinePattern.Dotted;
            }
        }

        int[] outside = [.. Enumerable.Range(0, points.Length).Where(i => points[i].Outside)];
        if (outside.Length > 0)
        {
            double[] at = [.. outside.Select(i => numbers[i])];
            var ring = plot.Add.Markers(at, [.. outside.Select(i => forces[i])], MarkerShape.OpenCircle, 15, style.Ink);
            ring.MarkerStyle.LineColor = style.Ink;
            ring.MarkerStyle.LineWidth = 2;
            ring.LegendText = ReportText.ControlOutside;
        }

        plot.Axes.Margins(.03, .25);
        Canvas.LegendOnTop(plot, style);
        string[] notes = [.. new[] { checkWeight.Individuals is null ? "" : ReportText.ControlNote, simulated ? ReportText.SimulatedShort
            : "" }.Where(note => note.Length > 0)];
        if (notes.Length > 0) Canvas.Note(plot, style, string.Join('\n', notes), Alignment.UpperLeft);
        return plot;
    }
}
