using RigDaq.Core.Quantities;
using RigDaq.Core.Statistics.Earlier;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>A control over the sessions that pulled it: its typical strength with its interval, the centre and, once there are limits, those.</summary>
internal static class ControlHistoryPicture
{
    private const int LeastSessions = 2;

    /// <summary>Null with fewer than two sessions.</summary>
    public static Picture? Of(ControlHistory? history, string settingUnit, Units units)
    {
        if (history is null || history.Points.Count < LeastSessions) return null;
        string name = history.Control.Describe(settingUnit);
        return new Picture("control", ReportText.SessionsTitle(name), ReportText.SessionsDescription(history, units), style => Draw(style, history, name, units), style => style.HeightPixels * 7 / 10);
    }

    private static Plot Draw(PictureStyle style, ControlHistory history, string name, Units units)
    {
        Unit unit = units.Stress;
        Plot plot = Canvas.Make(style, ReportText.SessionsAxis, ReportText.StrengthAxis(units));
        Canvas.Title(plot, style, ReportText.SessionsTitle(name));
        plot.Add.HorizontalLine(unit.Of(history.CentreMegapascals), 1.5f, style.Ink);
        foreach (double limit in new[] { history.LowerMegapascals, history.UpperMegapascals }.OfType<double>()) plot.Add.HorizontalLine(unit.Of(limit), 1.5f, style.Muted, LinePattern.Dashed);
        var days = new ScottPlot.TickGenerators.NumericManual();
        for (int i = 0; i < history.Points.Count; i++)
        {
            ControlPoint point = history.Points[i];
            if (point is { LowMegapascals: { } low, HighMegapascals: { } high })
            {
                var line = plot.Add.Line(i, unit.Of(low), i, unit.Of(high));
                line.Color = style.Series(0);
                line.LineWidth = 3;
            }

            var mark = plot.Add.Marker(i, unit.Of(point.MeanMegapascals), PictureStyle.Shape(0), point.Outside ? 15 : 11, point.Imported > 0 ? style.OwnGround : style.Series(0));
            mark.MarkerStyle.LineColor = style.Series(0);
            if (point.Imported > 0) mark.MarkerStyle.LineWidth = 2;
            days.AddMajor(i, ReportText.SessionsTick(point));
        }

        plot.Axes.Bottom.TickGenerator = days;
        plot.Axes.Margins(.1, .3);
        Canvas.Note(plot, style, ReportText.SessionsNote(history), Alignment.UpperLeft);
        return plot;
    }
}
