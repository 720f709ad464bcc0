using RigDaq.Core.Calibration;
using RigDaq.Core.Calibration.Fitting;
using RigDaq.Core.Quantities;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>How far each reading lies from the curve, in per cent of its reference force.</summary>
internal static class ResidualPicture
{
    private const double LeastHalfRangePercent = 0.1;

    /// <summary>Null where the readings are not known.</summary>
    /// <param name="calibration">The calibration.</param>
    /// <param name="units">What a person reads.</param>
    /// <param name="simulated">Whether its device is known to be a virtual rig, which is then said on the picture.</param>
    public static Picture? Of(CalibrationRecord calibration, Units units, bool simulated = false)
    {
        List<(CalibrationReading Reading, double Percent)> points = Residuals(calibration);
        if (points.Count == 0) return null;
        return new Picture("residuals-" + FileName.Of(calibration.Id),
            ReportText.ResidualTitle, ReportText.ResidualDescription(points.Count, points.Max(point => Math.Abs(point.Percent))),
            style => Draw(style, points, units, simulated), style => style.HeightPixels * 7 / 10);
    }

    private static List<(CalibrationReading Reading, double Percent)> Residuals(CalibrationRecord calibration)
    {
        var points = new List<(CalibrationReading, double)>();
        foreach (var series in calibration.Readings.GroupBy(reading => reading.Series))
        {
            // The first zero of a series is its own.
            if (series.FirstOrDefault(reading => reading.IsZero) is not { } zero) continue;
            foreach (CalibrationReading reading in series.Where(reading => !reading.IsZero))
            {
                double force = calibration.Curve.Newtons(reading.Counts - zero.Counts);
                points.Add((reading, 100 * (force - reading.Reference.Newtons) / reading.Reference.Newtons));
            }
        }

        return points;
    }

    private static Plot Draw(PictureStyle style, List<(CalibrationReading Reading, double Percent)> points, Units units, bool simulated)
    {
        Plot plot = Canvas.Make(style, ReportText.ReferenceAxis(units), ReportText.ResidualAxis);
        Canvas.Title(plot, style, ReportText.ResidualTitle);
        if (simulated) Canvas.Note(plot, style, ReportText.SimulatedShort, Alignment.LowerLeft);
        double half = 1.3 * Math.Max(LeastHalfRangePercent, points.Max(point => Math.Abs(point.Percent)));
        plot.Add.HorizontalLine(0, 1.5f, style.Ink);
        foreach (LoadDirection direction in new[] { LoadDirection.Rising, LoadDirection.Falling })
        {
            var chosen = points.Where(point => point.Reading.Direction == direction).ToList();
            if (chosen.Count == 0) continue;
            int series = (int)direction;
            double[] forces = [.. chosen.Select(point => units.Force.Of(point.Reading.Reference.Newtons))];
            double[] percents = [.. chosen.Select(point => point.Percent)];
            var marks = plot.Add.Markers(forces, percents, direction == LoadDirection.Rising ? MarkerShape.FilledCircle
                : MarkerShape.OpenTriangleDown, 9, style.Series(series));
            marks.MarkerStyle.LineColor = style.Series(series);
            marks.MarkerStyle.LineWidth = 1.5f;
            marks.LegendText = ReportText.DirectionWords(direction, chosen.Count);
        }

        double greatest = points.Max(point => units.Force.Of(point.Reading.Reference.Newtons));
        plot.Axes.SetLimits(0, greatest * 1.05, -half, half);
        plot.Axes.Left.TickGenerator = new ScottPlot.TickGenerators.NumericAutomatic { LabelFormatter = ReportText.SignedFine };
        Canvas.LegendOnTop(plot, style);
        return plot;
    }
}
