using RigDaq.Reports.Pictures;
using ScottPlot;

namespace RigDaq.Benchmarks.Pictures;

/// <summary>How many stops took longer than a time: a distribution whose far end, which counts, can be read.</summary>
internal static class LatencyPicture
{
    private static readonly double[] Milliseconds = [.05, .1, .2, .5, 1, 2, 5, 10, 20, 50, 100, 200, 500];
    private static readonly double[] Shares = [1, .1, .01, .001, .0001];

    /// <summary>As SVG.</summary>
    /// <param name="ours">Sorted milliseconds from the block on the wire to the stop on the wire.</param>
    /// <param name="rivals">The same of a poll loop in C; empty where there was none.</param>
    public static string Svg(double[] ours, double[] rivals) => new Picture(
        "performance-stop", "", "",
        style =>
        {
            Plot plot = Canvas.Make(style, "from the deciding block on the wire to the stop on the wire, ms",
                "share of stops that took longer");
            Line(plot, style, 0, ours, $"the daemon ({ours.Length} stops)");
            if (rivals.Length > 0) Line(plot, style, 1, rivals, $"a poll loop in C ({rivals.Length} stops)");
            double[] all = [.. ours, .. rivals];
            plot.Axes.SetLimits(Math.Log10(all.Min()) - .1, Math.Log10(all.Max()) + .1,
                Math.Log10(.7 / Math.Max(ours.Length, rivals.Length)), .05);
            Decades.Set(plot.Axes.Bottom, Milliseconds);
            Decades.Set(plot.Axes.Left, Shares);
            Canvas.LegendOnTop(plot, style);
            return plot;
        }).ToSvg(new PictureStyle());

    private static void Line(Plot plot, PictureStyle style, int series, double[] sorted, string name)
    {
        double[] x = new double[sorted.Length], y = new double[sorted.Length];
        for (int i = 0; i < sorted.Length; i++)
            (x[i], y[i]) = (Math.Log10(sorted[i]), Math.Log10((sorted.Length - i) / (double)sorted.Length));
        var line = plot.Add.ScatterLine(x, y, style.Series(series));
        line.ConnectStyle = ConnectStyle.StepVertical;
        line.LineWidth = 2;
        line.LegendText = name;
    }
}
