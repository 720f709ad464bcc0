using RigDaq.Core.Comparisons;
using RigDaq.Core.Quantities;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>A control over the sessions that pulled it: its typical strength with its interval, the centre and, once there are limits,
/// those.</summary>
internal static class ControlHistoryPicture
{
    private const int LeastSessions = 2;

    /// <summary>What a session's day and name take of a picture's width, and what the other axis takes, in pixels of a page.</summary>
    private const double TickWidth = 105, FrameWidth = 90;

    /// <summary>Null with fewer than two sessions.</summary>
    public static Picture? Of(ControlHistory? history, string settingUnit, Units units)
    {
        if (history is null || history.Points.Count < LeastSessions) return null;
        // A figure and its unit stay together where a title takes two lines.
        string name = history.Control.Describe(settingUnit);
        if (settingUnit.Length > 0) name = name.Replace($" {settingUnit}", $"\u00a0{settingUnit}", StringComparison.Ordinal);
        return new Picture("control", ReportText.SessionsTitle(name), ReportText.SessionsDescription(history, units),
            style => Draw(style, history, name, units), style => style.HeightPixels * 7 / 10);
    }

    private static Plot Draw(PictureStyle style, ControlHistory history, string name, Units units)
    {
        Unit unit = units.Stress;
        Plot plot = Canvas.Make(style, ReportText.SessionsAxis, ReportText.StrengthAxis(units));
        Canvas.Title(plot, style, ReportText.SessionsTitle(name));
        plot.Add.HorizontalLine(unit.Of(history.CentreMegapascals), 1.5f, style.Ink);
        foreach (double limit in new[] { history.LowerMegapascals, history.UpperMegapascals }.OfType<double>()) plot.Add
            .HorizontalLine(unit.Of(limit), 1.5f, style.Muted, LinePattern.Dashed);
        var days = new ScottPlot.TickGenerators.NumericManual();
        // The last session has its day, and so many before it that the days do not touch.
        int every = (int)Math.Ceiling(history.Points.Count * TickWidth / Math.Max(TickWidth, TypeFit.Whole(style) - FrameWidth));
        for (int i = 0; i < history.Points.Count; i++)
        {
            ControlPoint point = history.Points[i];
            if (point is { LowMegapascals: { } low, HighMegapascals: { } high })
            {
                var line = plot.Add.Line(i, unit.Of(low), i, unit.Of(high));
                line.Color = style.Series(0);
                line.LineWidth = 3;
            }

            var mark = plot.Add.Marker(i, unit.Of(point.MeanMegapascals), PictureStyle.Shape(0), point.Outside ? 15 : 11, point.Imported > 0
                ? style.OwnGround : style.Series(0));
            if (point.Imported > 0) Canvas.Outline(mark, style.Series(0));
            if ((history.Points.Count - 1 - i) % every == 0) days.AddMajor(i, ReportText.SessionsTick(point));
        }

        plot.Axes.Bottom.TickGenerator = days;
        plot.Axes.Margins(.1, .3);
        Canvas.Note(plot, style, ReportText.SessionsNote(history), Alignment.LowerLeft);
        return plot;
    }
}
