using System.Globalization;
using RigDaq.Benchmarks.Growth;
using RigDaq.Reports.Pictures;
using ScottPlot;

namespace RigDaq.Benchmarks.Pictures;

/// <summary>How cost grows with size: each series begins at one, a straight line is a power, its slope the exponent.</summary>
internal static class GrowthPicture
{
    private static readonly double[] Figures = [.5, 1, 2, 5, 10, 20, 50, 100, 200];

    /// <summary>As SVG.</summary>
    public static string Svg(IReadOnlyList<GrowthSeries> all) => new Picture(
        "performance-growth", "", "",
        style =>
        {
            Plot plot = Canvas.Make(style, "times as many", "times the cost");
            double widest = all.Max(series => series.Points[^1].Size / series.Points[0].Size);
            for (int i = 0; i < all.Count; i++) Line(plot, style, i, all[i]);
            double[] ends = [0, Math.Log10(widest)];
            var even = plot.Add.ScatterLine(ends, ends, style.Muted);
            even.LinePattern = LinePattern.Dotted;
            even.LegendText = "in proportion";
            Decades.Set(plot.Axes.Bottom, Figures);
            Decades.Set(plot.Axes.Left, Figures);
            plot.Axes.SetLimits(-.05, Math.Log10(widest) + .05, -.35, Math.Log10(widest) + .15);
            Canvas.LegendOnTop(plot, style);
            return plot;
        }).ToSvg(new PictureStyle { HeightPixels = 700 });

    private static void Line(Plot plot, PictureStyle style, int index, GrowthSeries series)
    {
        GrowthPoint first = series.Points[0];
        double[] x = [.. series.Points.Select(point => Math.Log10(point.Size / first.Size))];
        double[] y = [.. series.Points.Select(point => Math.Log10(point.Cost / first.Cost))];
        var line = plot.Add.Scatter(x, y, style.Series(index));
        line.LineWidth = 2;
        // There are six colours: who has one for the second time is dashed and bears another mark.
        int round = index / PictureStyle.LightSeries.Length;
        if (round > 0) line.LinePattern = LinePattern.Dashed;
        line.MarkerShape = PictureStyle.Shape(index + round);
        line.MarkerSize = 8;
        line.LegendText = string.Create(CultureInfo.InvariantCulture, $"{series.Name}: {series.Exponent:0.00}");
    }
}
