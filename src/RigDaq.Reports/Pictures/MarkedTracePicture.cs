using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Trace;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>One trace with everything that was read from it: zero, contact, peak, break, load drops, spikes left out.</summary>
public static class MarkedTracePicture
{
    // A line has no more corners than this: a long trace is drawn as the span of its forces, pixel column by pixel column.
    private const int ColumnsMax = 1500;

    /// <summary>Makes it.</summary>
    /// <param name="name">Of the trace: a file's or a specimen's.</param>
    /// <param name="trace">As it was read.</param>
    /// <param name="units">What is shown; null for SI.</param>
    public static Picture Of(string name, AnalysedTrace trace, Units? units = null) =>
        new("trace-" + FileName.Of(name), ReportText.TraceTitle(name, trace.Reading.Ending.Spoken()),
        ReportText.TraceDescription(name, trace.Reading, units ?? Units.Si), style => Draw(style, name, trace, units ?? Units.Si));

    private static Plot Draw(PictureStyle style, string name, AnalysedTrace trace, Units units)
    {
        TraceReading reading = trace.Reading;
        Unit unit = units.Force;
        Plot plot = Canvas.Make(style, ReportText.TraceTimeAxis, ReportText.ForceAxis(units));
        Canvas.Title(plot, style, ReportText.TraceTitle(name, reading.Ending.Spoken()));
        if (trace.Times.Length == 0) return plot;
        (double[] times, double[] forces) = Thin(trace.Times, [.. trace.Forces.Select(unit.Of)]);
        var line = plot.Add.ScatterLine(times, forces, style.Series(0));
        line.LineWidth = 1.3f;
        double low = forces.Min(), high = Math.Max(forces.Max(), unit.Of(reading.PeakForceNewtons ?? 0));
        double span = Math.Max(high - low, 1e-9);
        plot.Add.HorizontalLine(0, 1, style.Muted, LinePattern.Dotted);
        if (trace.Contact >= 0)
        {
            var contact = plot.Add.VerticalLine(trace.Times[trace.Contact], 1, style.Muted, LinePattern.Dotted);
            contact.LegendText = ReportText.ContactMark;
        }

        if (reading is { PeakTimeSeconds: { } peakTime, PeakForceNewtons: { } peak })
            Mark(plot, style, 1, [(peakTime, unit.Of(peak))], MarkerShape.OpenTriangleDown, ReportText.PeakMark(peak, reading, units));
        if (reading is { BreakTimeSeconds: { } breakTime, BreakForceNewtons: { } force })
            Mark(plot, style, 2, [(breakTime, unit.Of(force))], MarkerShape.Eks, ReportText.BreakMark(force, units));
        if (reading.LoadDrops.Count > 0)
        {
            Mark(plot, style, 3, [.. reading.LoadDrops.Select(drop => (drop.TimeSeconds, unit.Of(At(trace, drop.TimeSeconds))))],
                MarkerShape.OpenDiamond, ReportText.DropMark(reading.LoadDrops.Count));
        }

        if (trace.Spikes.Count > 0)
        {
            // A spike may stand far outside: it is drawn at the edge it went through.
            Mark(plot, style, 4,
                [.. trace.Spikes
                    .Select(spike => (spike.TimeSeconds, Math.Clamp(unit.Of(spike.Value), low - (0.04 * span), high + (0.04 * span))))],
                MarkerShape.Asterisk, ReportText.SpikeMark(trace.Spikes.Count));
        }

        double length = Math.Max(trace.Times[^1] - trace.Times[0], 1e-9);
        plot.Axes.SetLimits(trace.Times[0] - (0.02 * length), trace.Times[^1] + (0.02 * length), low - (0.08 * span), high + (0.1 * span));
        Canvas.LegendOnTop(plot, style);
        return plot;
    }

    private static void Mark(Plot plot, PictureStyle style, int series, (double Time, double Force)[] points, MarkerShape shape,
        string legend)
    {
        var marks = plot.Add.ScatterPoints(points.Select(point => point.Time).ToArray(), points.Select(point => point.Force).ToArray(),
            style.Series(series));
        marks.MarkerShape = shape;
        marks.MarkerSize = 12;
        marks.MarkerLineWidth = 2;
        marks.LegendText = legend;
    }

    private static double At(AnalysedTrace trace, double time)
    {
        int at = Array.BinarySearch(trace.Times, time);
        return trace.Forces[at >= 0 ? at : Math.Min(~at, trace.Forces.Length - 1)];
    }

    /// <summary>The least and the greatest force of each column, in the order they came, so that no peak or fall is lost.</summary>
    private static (double[] Times, double[] Forces) Thin(double[] times, double[] forces)
    {
        if (times.Length <= 2 * ColumnsMax) return (times, forces);
        var keptTimes = new List<double>(2 * ColumnsMax);
        var keptForces = new List<double>(2 * ColumnsMax);
        for (int column = 0; column < ColumnsMax; column++)
        {
            int from = (int)((long)column * times.Length / ColumnsMax);
            int to = (int)((long)(column + 1) * times.Length / ColumnsMax);
            int least = from, greatest = from;
            for (int i = from; i < to; i++)
            {
                if (forces[i] < forces[least]) least = i;
                if (forces[i] > forces[greatest]) greatest = i;
            }

            foreach (int i in new[] { Math.Min(least, greatest), Math.Max(least, greatest) })
            {
                keptTimes.Add(times[i]);
                keptForces.Add(forces[i]);
            }
        }

        return ([.. keptTimes], [.. keptForces]);
    }
}
