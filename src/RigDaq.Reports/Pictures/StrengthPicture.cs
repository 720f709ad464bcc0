using System.Globalization;
using RigDaq.Core.Comparisons;
using RigDaq.Core.Groups;
using RigDaq.Core.Quantities;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>Strength against the setting, conditions side by side: means with their intervals, and every specimen as a faint
/// point.</summary>
internal static class StrengthPicture
{
    // Of the distance between two settings, this much is shared by the conditions: points stand at their setting, beside it by little.
    private const double GroupShare = 0.26;

    // Specimens lie faint behind their mean, spread over so much of their part.
    private const double SpecimensFrom = -0.34;
    private const double SpecimensTo = 0.34;

    /// <summary>One picture a material, all on one scale.</summary>
    public static IEnumerable<Picture> Of(StudyReportModel model, ComparisonAnswer answer)
    {
        double top = answer.Groups.Max(group => Math.Max(group.Maximum, group.High ?? 0));
        string[] conditions = [.. model.Conditions];
        foreach (var material in answer.Groups.GroupBy(group => group.Material))
        {
            GroupStatistics[] groups = [.. material];
            string title = ReportText.StrengthTitle(material.Key, model.Study.SettingName);
            yield return new Picture(
                "strength-" + FileName.Of(material.Key),
                title,
                ReportText.StrengthDescription(groups, model.Study.SettingUnit, model.ConfidencePercent, model.Units),
                style => Draw(style, model, answer, groups, conditions, (style.Values ? 1.16 : 1.08) * top))
            {
                Steps = groups.Select(group => group.Condition).Distinct().Count(),
                IsDetail = answer.Groups.Select(group => group.Material).Distinct().Count() > 1,
            };
        }
    }

    private static Plot Draw(PictureStyle style, StudyReportModel model, ComparisonAnswer answer, GroupStatistics[] groups,
        string[] conditions, double top)
    {
        var axis = SettingAxis.Of(model.Study, answer.Groups.Select(group => group.Setting));
        Plot plot = Canvas.Make(style, axis.Label(model.Study), ReportText.StrengthAxis(model.Units));
        Canvas.Title(plot, style, ReportText.StrengthTitle(groups[0].Material, model.Study.SettingName));
        string[] shown = [.. conditions.Where(condition => groups.Any(group => group.Condition == condition))];
        double slot = GroupShare * axis.Step / Math.Max(shown.Length, 1);
        double step = TypeFit.DataRoom(plot, style) * axis.Step / (axis.High - axis.Low);
        for (int i = 0; i < shown.Length && style.Shows(i); i++)
        {
            int series = Array.IndexOf(conditions, shown[i]);
            double shift = (i - ((shown.Length - 1) / 2.0)) * slot;
            string name = shown[i].Length == 0 ? groups[0].Material : shown[i];
            DrawSeries(
                plot, style, model, new StrengthSeries([.. groups.Where(group => group.Condition == shown[i])], series, name, groups),
                    new SeriesPlace(axis, shift, slot, step));
        }

        plot.Axes.Bottom.TickGenerator = new ScottPlot.TickGenerators.NumericManual([.. axis.Positions.Select(position => position.At)],
            [.. axis.Positions.Select(position => position.Text + "\n" + Fitting(Counts(groups, shown, position.Setting), step))]);
        plot.Axes.Bottom.MajorTickStyle.Length = 0;
        plot.Axes.SetLimits(axis.Low, axis.High, 0, model.Units.Stress.Of(top));
        NotPrintable.Draw(plot, style, NotPrintable.Of(model.Study).Where(g => g.Material == groups[0].Material)
            .Select(g => (g.Condition, g.Setting)), shown, axis, 0, new(0, model.Units.Stress.Of(top)));
        Canvas.LegendOnTop(plot, style, shown.Select(condition => condition.Length == 0 ? groups[0].Material : condition));
        Canvas.Note(plot, style, ReportText.StrengthNote(model.ConfidencePercent) + Caveat(model), Alignment.LowerLeft);
        return plot;
    }

    /// <summary>Means of one series with their intervals, specimens behind them, values beside them where they are wanted.</summary>
    /// <param name="plot">Where.</param>
    /// <param name="style">How.</param>
    /// <param name="model">The study.</param>
    /// <param name="series">The series.</param>
    /// <param name="place">Where it stands.</param>
    internal static void DrawSeries(Plot plot, PictureStyle style, StudyReportModel model, StrengthSeries series, SeriesPlace place)
    {
        ((SettingAxis axis, double shift, double slot, double step), GroupStatistics[] groups) = (place, series.Groups);
        Color color = style.Series(series.Colour);
        Unit unit = model.Units.Stress;
        foreach (GroupStatistics group in groups)
        {
            double x = axis.At(group.Setting) + shift;
            SpecimenStrength[] specimens = [.. model.Answer.Strengths.Where(strength =>
                strength.Group.Material == group.Material && strength.Group.Condition == group.Condition
                    && strength.Group.Setting == group.Setting)];
            DrawSpecimens(plot, style, specimens, unit, x, slot, series.Colour);
        }

        GroupStatistics[] rising = [.. groups.OrderBy(group => group.Setting)];
        double[] xs = [.. rising.Select(group => axis.At(group.Setting) + shift)];
        double[] means = [.. rising.Select(group => unit.Of(group.Mean))];
        if (rising.Length > 1)
        {
            var line = plot.Add.ScatterLine(xs, means, color.WithAlpha(.5));
            line.LineWidth = 1.5f;
        }

        for (int i = 0; i < rising.Length; i++)
        {
            if (rising[i].Low is not { } low || rising[i].High is not { } high) continue;
            Canvas.Interval(plot, xs[i], unit.Of(low), unit.Of(high), slot * .13, color);
        }

        var marks = plot.Add.Markers(xs, means, PictureStyle.Shape(series.Colour), 11, color);
        marks.MarkerStyle.LineColor = color;
        marks.MarkerStyle.LineWidth = 1.5f;
        if (style.Values)
        {
            for (int i = 0; i < rising.Length; i++)
            {
                GroupStatistics group = rising[i];
                if (Canvas.Fitting(NumberText.Of(means[i], unit.Decimals(Half(group), 1)), means[i], ValueShare * step) is not
                    { } figure) continue;
                ValueSide side = Canvas.SideOf(group.Mean,
                    [.. series.Beside.Where(other => other.Setting == group.Setting).Select(other => other.Mean)]);
                Canvas.Value(plot, style, xs[i],
                    unit.Of(side switch { ValueSide.Above => group.High, ValueSide.Below => group.Low, _ => null } ?? group.Mean), figure,
                    color, side);
            }
        }

        if (series.Name is not null) marks.LegendText = series.Name;
    }

    private static void DrawSpecimens(Plot plot, PictureStyle style, SpecimenStrength[] specimens, Unit unit, double x, double slot,
        int colour)
    {
        Color color = style.Series(colour);
        // Even steps of the golden ratio: the same picture each time, and no two neighbours on one spot.
        double[] xs =
            [.. specimens.Select((_, i) => x + (slot * (SpecimensFrom + ((SpecimensTo - SpecimensFrom) * (i * 0.6180339887 % 1)))))];
        Marks(left => !left, PictureStyle.Shape(colour), 7, color.WithAlpha(style.Dark ? .45 : .35));
        Marks(left => left, MarkerShape.Eks, 8, style.Muted);

        void Marks(Func<bool, bool> which, MarkerShape shape, float size, Color fill)
        {
            int[] chosen = [.. Enumerable.Range(0, specimens.Length).Where(i => which(specimens[i].Void is not null))];
            if (chosen.Length == 0) return;
            double[] at = [.. chosen.Select(i => xs[i])];
            double[] strengths = [.. chosen.Select(i => unit.Of(specimens[i].Megapascals))];
            var marks = plot.Add.Markers(at, strengths, shape, size, fill);
            marks.MarkerStyle.LineColor = fill;
        }
    }

    /// <summary>Counts that are wider than a step stand one below the other; where that is still too wide, as bare figures.</summary>
    internal static string Fitting(string counts, double step)
    {
        string stacked = ReportText.CountsStacked(counts);
        return Fits(counts) ? counts : Fits(stacked) ? stacked : ReportText.CountsBare(stacked);

        bool Fits(string text) => TypeFit.WidthOf(text, Canvas.SmallTypeSize) < ValueShare * step;
    }

    /// <summary>Words and figures of neighbouring settings keep so much of a step at most.</summary>
    private const double ValueShare = 0.95;

    private static double? Half(GroupStatistics group) => group is { Low: { } low, High: { } high } ? (high - low) / 2 : null;

    internal static string Counts(GroupStatistics[] groups, string[] conditions, decimal? setting)
        => ReportText.CountsOf(conditions.Select(condition =>
        groups.FirstOrDefault(group => group.Condition == condition && group.Setting == setting)?.N.ToString(CultureInfo.InvariantCulture)
            ?? "0"));

    private static string Caveat(StudyReportModel model) => StudyPictures.Caveats(model) is { Length: > 0 } caveats ? "\n" + caveats : "";
}

/// <summary>One series of strengths in a picture.</summary>
/// <param name="Groups">Its groups, one a setting.</param>
/// <param name="Colour">Its colour and shape.</param>
/// <param name="Name">Its name in the legend; null where it stands there already.</param>
/// <param name="Beside">All groups of the panel: figures keep clear of each other.</param>
internal sealed record StrengthSeries(GroupStatistics[] Groups, int Colour, string? Name, IReadOnlyList<GroupStatistics> Beside);

/// <summary>Where a series stands.</summary>
/// <param name="Axis">The settings.</param>
/// <param name="Shift">Added to each setting's place.</param>
/// <param name="Slot">The width that the series has there.</param>
/// <param name="Step">From setting to setting, in page pixels.</param>
internal sealed record SeriesPlace(SettingAxis Axis, double Shift, double Slot, double Step);
