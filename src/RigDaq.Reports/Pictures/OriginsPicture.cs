using System.Globalization;
using RigDaq.Core.Uncertainty;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>Where the uncertainty of a strength comes from: a bar an origin, the greatest first; what was assumed is paler.</summary>
public static class OriginsPicture
{
    private const int RowPixels = 46;
    private const int FramePixels = 140;

    // Narrower than that (in units of type) the names stand above the bars instead of beside them.
    private const double NarrowPixels = 560;
    private const int NarrowRowPixels = 60;
    private const int NarrowFramePixels = 190;
    private const double NarrowNameAt = 0.1;
    private const int NarrowMargin = 40;

    // Names longer than that go on in a second line.
    private const int LinePlaces = 34;

    // Shares below this are one bar together.
    private const double ShareMin = 0.5;

    // Room for the figure behind the longest bar, in per cent.
    private const double BehindBars = 112;
    private const double BehindNarrowBars = 120;
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
            Height);

        int Height(PictureStyle style) =>
            (int)(style.Scale * (IsNarrow(style) ? NarrowFramePixels + (NarrowRowPixels * rows) : FramePixels + (RowPixels * rows)));

        Plot Draw(PictureStyle asked)
        {
            double wanted = Height(asked);
            PictureStyle style = asked.ExactSize && wanted > asked.HeightPixels
                ? asked with { Scale = asked.Scale * asked.HeightPixels / wanted } : asked;
            Plot plot = Canvas.Make(style, ReportText.OriginsAxis, "");
            Canvas.Title(plot, style, ReportText.OriginsTitle(origins.OfStrength));
            var ticks = new ScottPlot.TickGenerators.NumericManual();
            bool narrow = IsNarrow(style);
            for (int row = 0; row < shown.Length; row++)
            {
                UncertaintyOrigin origin = shown[row];
                Bar(rows - row, origin.SharePercent, style.Series((int)origin.Stage).WithAlpha(origin.IsAssumed ? .45 : .9),
                    origin.IsAssumed ? ReportText.OriginAssumed(origin.Name) : origin.Name);
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
            plot.Axes.SetLimits(0, narrow ? BehindNarrowBars : BehindBars, 0.4, rows + (narrow ? .95 : .6));
            Canvas.LegendOnTop(plot, style);
            Canvas.Note(plot, style, ReportText.OriginsNote(origins) + (caveats.Length > 0 ? "\n" + caveats : ""), Alignment.LowerLeft);
            return plot;

            void Bar(int y, double share, Color color, string name)
            {
                (double from, double to) = narrow ? (y - .36, y) : (y - .34, y + .34);
                var bar = plot.Add.Rectangle(0, share, from, to);
                bar.FillStyle.Color = color;
                bar.LineStyle.Width = 0;
                Canvas.Words(plot, new(share + 1, (from + to) / 2), string.Create(CultureInfo.InvariantCulture, $"{share:0.#} %"),
                    style.Ink, Alignment.MiddleLeft);
                if (!narrow) ticks.AddMajor(y, Lines(name));
                else
                {
                    string wrapped = TypeFit.Wrapped(name, TypeFit.Whole(style) - NarrowMargin, Canvas.SmallTypeSize);
                    Canvas.Words(plot, new(0, y + NarrowNameAt), wrapped, style.Ink, Alignment.LowerLeft);
                }
            }
        }
    }

    private static bool IsNarrow(PictureStyle style) => style.WidthPixels < NarrowPixels * style.Scale;

    private static string Lines(string name)
    {
        if (name.Length <= LinePlaces) return name;
        int at = name.LastIndexOf(' ', LinePlaces);
        return at < 0 ? name : name[..at] + "\n" + name[(at + 1)..];
    }
}
