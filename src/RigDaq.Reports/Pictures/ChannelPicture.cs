using RigDaq.Core.Pulls;
using RigDaq.Core.Quantities;
using RigDaq.Core.Signal;
using RigDaq.Core.Trace;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>A channel besides the force: over the time of its pull, or the force (the stress, where the section is known) over an
/// extension.</summary>
public static class ChannelPicture
{
    // A line has no more corners than this.
    private const int CornersMax = 3000;

    /// <summary>Over the time of the pull, on the same axis as its force.</summary>
    /// <param name="name">The specimen's.</param>
    /// <param name="curve">The channel.</param>
    /// <param name="trace">The force, whose time it shares and whose contact and break are marked.</param>
    /// <param name="units">What is shown; null for SI.</param>
    public static Picture OverTime(string name, ChannelCurve curve, AnalysedTrace trace, Units? units = null)
    {
        (Func<double, double> shown, string symbol) = Shown(curve.Head, units ?? Units.Si);
        string channel = NameOf(curve.Head);
        return new Picture(
            "channel-" + FileName.Of($"{curve.Head.Index} {name}"), ReportText.ChannelTitle(name, channel),
                ReportText.ChannelDescription(name, channel, symbol),
            style => DrawOverTime(style, name, curve, trace, shown, symbol));
    }

    /// <summary>Stress, or force where the section is not known, over the extension of the gauge from contact on.</summary>
    /// <param name="name">The specimen's.</param>
    /// <param name="trace">The force as it was read.</param>
    /// <param name="extensionsMillimetres">The extension at each sample of it; NaN where there is none.</param>
    /// <param name="areaSquareMillimetres">The section; null where it is not known.</param>
    /// <param name="units">What is shown; null for SI.</param>
    public static Picture OverExtension(string name, AnalysedTrace trace, double[] extensionsMillimetres, double? areaSquareMillimetres,
        Units? units = null)
    {
        Units used = units ?? Units.Si;
        bool isStress = areaSquareMillimetres is > 0;
        return new Picture("extension-" + FileName.Of(name), ReportText.ExtensionTitle(name, isStress),
            ReportText.ExtensionDescription(name, isStress),
            style => DrawOverExtension(style, name, trace, extensionsMillimetres, isStress ? areaSquareMillimetres : null, used));
    }

    /// <summary>A channel's name, or what it is where it has none.</summary>
    public static string NameOf(ChannelHead head)
    {
        ArgumentNullException.ThrowIfNull(head);
        return head.Name.Length > 0 ? head.Name : ReportText.ChannelKind(head.Kind);
    }

    private static (Func<double, double> Shown, string Symbol) Shown(ChannelHead head, Units units) => head.Kind switch
    {
        ChannelHead.Force => (units.Force.Of, units.Force.Symbol),
        ChannelHead.Extension => (units.Length.Of, units.Length.Symbol),
        _ => (value => value, head.Unit),
    };

    private static Plot DrawOverTime(PictureStyle style, string name, ChannelCurve curve, AnalysedTrace trace, Func<double, double> shown,
        string symbol)
    {
        Plot plot = Canvas.Make(style, ReportText.TraceTimeAxis, ReportText.ChannelAxis(NameOf(curve.Head), symbol));
        Canvas.Title(plot, style, ReportText.ChannelTitle(name, NameOf(curve.Head)));
        double from = trace.Times.Length > 0 ? trace.Times[0] : curve.TimesSeconds[0], to = trace.Times.Length > 0 ? trace.Times[^1]
            : curve.TimesSeconds[^1];
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        foreach ((double[] x, double[] y) in Pieces(curve.TimesSeconds, [.. curve.Values.Select(shown)]))
        {
            var line = plot.Add.ScatterLine(x, y, style.Series(3));
            line.LineWidth = 1.3f;
            (low, high) = (Math.Min(low, y.Min()), Math.Max(high, y.Max()));
        }

        if (trace.Contact >= 0) Upright(plot, style, trace.Times[trace.Contact], ReportText.ContactMark);
        if (trace.Reading.BreakTimeSeconds is { } broke) Upright(plot, style, broke, ReportText.BreakTimeMark);
        double span = Math.Max(high - low, 1e-9), length = Math.Max(to - from, 1e-9);
        if (double.IsFinite(low))
            plot.Axes.SetLimits(from - (0.02 * length), to + (0.02 * length), low - (0.08 * span), high + (0.1 * span));
        Canvas.LegendOnTop(plot, style);
        return plot;
    }

    private static Plot DrawOverExtension(PictureStyle style, string name, AnalysedTrace trace, double[] extensions, double? area,
        Units units)
    {
        Func<double, double> shown = area is { } section ? newtons => units.Stress.Of(newtons / section) : units.Force.Of;
        Plot plot = Canvas.Make(style, ReportText.ExtensionAxis(units), area is null ? ReportText.ForceAxis(units)
            : ReportText.StressAxis(units));
        Canvas.Title(plot, style, ReportText.ExtensionTitle(name, area is not null));
        if (trace.Contact < 0) return plot;
        int end = Math.Min(trace.End, extensions.Length - 1);
        double[] xs = [.. extensions[trace.Contact..(end + 1)].Select(units.Length.Of)],
            ys = [.. trace.Forces[trace.Contact..(end + 1)].Select(shown)];
        foreach ((double[] x, double[] y) in Pieces(xs, ys))
        {
            var line = plot.Add.ScatterLine(x, y, style.Series(0));
            line.LineWidth = 1.3f;
        }

        if (trace.Reading.PeakTimeSeconds is { } peakTime && Array.FindIndex(trace.Times, time => time >= peakTime) is >= 0 and var at
            && at < extensions.Length && double.IsFinite(extensions[at]))
        {
            var mark = plot.Add.ScatterPoints(new[] { units.Length.Of(extensions[at]) }, new[] { shown(trace.Forces[at]) },
                style.Series(1));
            mark.MarkerShape = MarkerShape.OpenTriangleDown;
            mark.MarkerSize = 12;
            mark.MarkerLineWidth = 2;
            mark.LegendText = ReportText.PeakPlace;
            Canvas.LegendOnTop(plot, style);
        }

        return plot;
    }

    private static void Upright(Plot plot, PictureStyle style, double time, string legend)
    {
        var line = plot.Add.VerticalLine(time, 1, style.Muted, legend == ReportText.ContactMark ? LinePattern.Dotted : LinePattern.Dashed);
        line.LegendText = legend;
    }

    /// <summary>The stretches between places where there is no value, thinned evenly.</summary>
    private static IEnumerable<(double[] X, double[] Y)> Pieces(double[] x, double[] y)
    {
        int every = Math.Max(1, (x.Length + CornersMax - 1) / CornersMax);
        var xs = new List<double>();
        var ys = new List<double>();
        for (int i = 0; i < x.Length; i++)
        {
            if (double.IsFinite(x[i]) && double.IsFinite(y[i]))
            {
                if (i % every != 0 && i != x.Length - 1) continue;
                xs.Add(x[i]);
                ys.Add(y[i]);
                continue;
            }

            if (xs.Count > 0) yield return ([.. xs], [.. ys]);
            xs.Clear();
            ys.Clear();
        }

        if (xs.Count > 0) yield return ([.. xs], [.. ys]);
    }
}
