using System.Globalization;
using RigDaq.Core.Strength;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>Where the uncertainty of a strength comes from: a bar an origin, the greatest first; what was assumed is paler.</summary>
public static class OriginsPicture
{
    private const int RowPixels = 46;
    private const int FramePixels = 140;

    // Names longer than that go on in a second line.
    private const int LinePlaces = 34;

    // Shares below this are one bar together.
    private const double ShareMin = 0.5;

    // Room for the figure behind the longest bar, in per cent.
    private const double BehindBars = 112;
    private const int SharesApart = 20;

    private static readonly UncertaintyStage[] Stages = Enum.GetValues<UncertaintyStage>();

    /// <summary>The picture.</summary>
    /// <param name="origins">What is shown.</param>
    /// <param name="caveats">What must go along wherever it is shown; empty for nothing.</param>
    public static Picture Of(UncertaintyOrigins origins, string caveats = "")
    {
        UncertaintyOrigin[] shown = [.. origins.Origins.Where(origin => origin.SharePercent >= ShareMin)];
        double rest = origins.Origins.Where(origin => origin.SharePercent < ShareMin).Sum(origin => origin.SharePercent);
        int rows = shown.Length + (rest > 0 ? 1 : 0);
        return new Picture("uncertainty", ReportText.OriginsTitle(origins.OfStrength), ReportText.OriginsDescription(origins), Draw,
            style => (int)(style.Scale * (FramePixels + (RowPixels * rows))));

        Plot Draw(PictureStyle asked)
        {
            double wanted = asked.Scale * (FramePixels + (RowPixels * rows));
            PictureStyle style = asked.ExactSize && wanted > asked.HeightPixels ? asked with { Scale = asked.Scale * asked.HeightPixels / wanted } : asked;
            Plot plot = Canvas.Make(style, ReportText.OriginsAxis, "");
            Canvas.Title(plot, style, ReportText.OriginsTitle(origins.OfStrength));
            var ticks = new ScottPlot.TickGenerators.NumericManual();
            for (int row = 0; row < shown.Length; row++)
            {
                UncertaintyOrigin origin = shown[row];
                Bar(rows - row, origin.SharePercent, style.Series((int)origin.Stage).WithAlpha(origin.IsAssumed ? .45 : .9),
                    Lines(origin.IsAssumed ? ReportText.OriginAssumed(origin.Name) : origin.Name));
            }

            if (rest > 0) Bar(1, rest, style.Muted.WithAlpha(.6), ReportText.OriginsRest);
            foreach (UncertaintyStage stage in Stages.Where(stage => shown.Any(origin => origin.Stage == stage)))
            {
                var key = plot.Add.Marker(-1000, 0, MarkerShape.FilledSquare, 12, style.Series((int)stage).WithAlpha(.9));
                key.LegendText = ReportText.Stage(stage);
            }

            plot.Axes.Left.TickGenerator = ticks;
            plot.Axes.Left.MajorTickStyle.Length = 0;
            plot.Grid.YAxisStyle.IsVisible = false;
            var shares = new ScottPlot.TickGenerators.NumericManual();
            for (int share = 0; share <= 100; share += SharesApart) shares.AddMajor(share, share.ToString(CultureInfo.InvariantCulture));
            plot.Axes.Bottom.TickGenerator = shares;
            plot.Axes.SetLimits(0, BehindBars, 0.4, rows + .6);
            Canvas.LegendOnTop(plot, style);
            Canvas.Note(plot, style, ReportText.OriginsNote(origins) + (caveats.Length > 0 ? "\n" + caveats : ""), Alignment.LowerLeft);
            return plot;

            void Bar(int y, double share, Color color, string name)
            {
                var bar = plot.Add.Rectangle(0, share, y - .34, y + .34);
                bar.FillStyle.Color = color;
                bar.LineStyle.Width = 0;
                Canvas.Words(plot, share + 1, y, string.Create(CultureInfo.InvariantCulture, $"{share:0.#} %"), style.Ink, Alignment.MiddleLeft);
                ticks.AddMajor(y, name);
            }
        }
    }

    private static string Lines(string name)
    {
        if (name.Length <= LinePlaces) return name;
        int at = name.LastIndexOf(' ', LinePlaces);
        return at < 0 ? name : name[..at] + "\n" + name[(at + 1)..];
    }
}
