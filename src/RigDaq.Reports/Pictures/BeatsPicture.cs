using RigDaq.Core.Comparisons;
using RigDaq.Core.Questions;
using RigDaq.Core.Specimens;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>Who beats whom: materials against materials, averaged over settings, as a table; one for each condition.</summary>
internal static class BeatsPicture
{
    /// <summary>One picture a condition in which two materials or more were compared.</summary>
    public static IEnumerable<Picture> Of(StudyReportModel model, ComparisonAnswer answer)
    {
        QuestionAnswer[] all = [.. PreferredAnswer.Of(answer, QuestionNames.MaterialAverage)];
        if (all.Length == 0) all = [.. PreferredAnswer.Of(answer, QuestionNames.Material)];
        foreach (var condition in all.GroupBy(a => (a.Condition, a.Setting)))
        {
            QuestionAnswer[] rows = [.. condition];
            string[] materials = [.. model.Materials.Where(m => rows.Any(a => a.Material == m || a.AgainstMaterial == m))];
            string place =
                new Core.Specimens.GroupKey("", condition.Key.Condition ?? "", condition.Key.Setting).Describe(model.Study.SettingUnit);
            yield return new Picture("beats-" + FileName.Of(place), ReportText.BeatsTitle(place), ReportText.BeatsDescription(rows),
                style => Draw(style, model, answer, rows, materials, place))
            {
                IsDetail = true,
            };
        }
    }

    private static Plot Draw(PictureStyle style, StudyReportModel model, ComparisonAnswer answer, QuestionAnswer[] rows, string[] materials,
        string place)
    {
        int n = materials.Length;
        Plot plot = Canvas.Make(style, ReportText.BeatsAcross, "");
        Canvas.Title(plot, style, ReportText.BeatsTitle(place));
        for (int r = 0; r < n; r++)
        {
            for (int c = 0; c < n; c++)
            {
                double x = c, y = n - 1 - r;
                if (r == c) continue;
                var cell = plot.Add.Rectangle(x - .48, x + .48, y - .46, y + .46);
                cell.LineStyle.Width = 0;
                (string text, bool? better) = Cell(rows, materials[r], materials[c]);
                cell.FillStyle.Color = better is { } wins ? style.Series(wins ? 2 : 1).WithAlpha(style.Dark ? .45 : .25) : style.Band;
                Canvas.Words(plot, new(x, y), text, style.Ink, Alignment.MiddleCenter, bold: better is not null, Canvas.TypeSize);
            }
        }

        plot.Axes.Left.TickGenerator =
            new ScottPlot.TickGenerators.NumericManual([.. Enumerable.Range(0, n).Select(i => (double)(n - 1 - i))],
            [.. materials
            .Select(m => ReportText.BeatsMaterial(m, answer.Groups.Where(g => g.Material == m && g.Condition == rows[0].Condition)
            .Sum(g => g.N)))]);
        plot.Axes.Bottom.TickGenerator = new ScottPlot.TickGenerators.NumericManual([.. Enumerable.Range(0, n).Select(i => (double)i)],
            materials);
        plot.Axes.Left.MajorTickStyle.Length = 0;
        plot.Axes.Bottom.MajorTickStyle.Length = 0;
        plot.Grid.XAxisStyle.IsVisible = plot.Grid.YAxisStyle.IsVisible = false;
        plot.Axes.SetLimits(-.6, n - .4, -.6, n - .4);
        string caveats = StudyPictures.Caveats(model);
        Canvas.Note(plot, style, ReportText.BeatsNote(model.ConfidencePercent)
            + (NotPrintable.Note(model) is { Length: > 0 } failed ? "\n" + failed : "") + (caveats.Length > 0 ? "\n" + caveats : ""),
            Alignment.LowerLeft);
        return plot;
    }

    /// <summary>What the row's material is against the column's, and whether it is shown to be stronger or weaker.</summary>
    private static (string Text, bool? Better) Cell(QuestionAnswer[] rows, string row, string column)
    {
        if (rows.FirstOrDefault(a => a.Material == row && a.AgainstMaterial == column) is { } straight)
            return (ReportText.BeatsFigure(straight.Percent!.Value, straight.PercentLow!.Value, straight.PercentHigh!.Value),
                Shown(straight, straight.Percent > 0));
        if (rows.FirstOrDefault(a => a.Material == column && a.AgainstMaterial == row) is not { } turned) return ("", null);
        // The other way round it is another per cent: 25 % more is 20 % less.
        double Turn(double percent) => 100 * ((100 / (100 + percent)) - 1);
        return (ReportText.BeatsFigure(Turn(turned.Percent!.Value), Turn(turned.PercentHigh!.Value), Turn(turned.PercentLow!.Value)),
            Shown(turned, turned.Percent < 0));
    }

    private static bool? Shown(QuestionAnswer answer, bool better) => answer.Verdict == Verdicts.Different ? better : null;
}
