using RigDaq.Core.Groups;
using RigDaq.Core.Specimens;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>How the specimens of each group broke: shares of each manner, a bar a group.</summary>
internal static class MannerPicture
{
    private const int RowPixels = 30;
    private const int FramePixels = 150;

    /// <summary>Null where no trace tells how its specimen broke.</summary>
    public static Picture? Of(StudyReportModel model)
    {
        SpecimenStrength[] judged = [.. model.Answer.Strengths.Where(strength => strength.Void is null && strength.Manner.Length > 0)];
        string[] manners = [.. judged.Select(strength => strength.Manner).Distinct().Order(StringComparer.Ordinal)];
        GroupKey[] groups = [.. model.Study.Groups().Where(group => judged.Any(strength => strength.Group == group))
            .OrderBy(g => model.Materials.ToList().IndexOf(g.Material))
            .ThenBy(g => model.Conditions.ToList().IndexOf(g.Condition)).ThenBy(g => g.Setting)];
        if (groups.Length == 0) return null;
        GroupKey[] failed = [.. NotPrintable.Of(model.Study).Except(groups)];
        int rows = groups.Length + failed.Length;
        return new Picture("manner", ReportText.MannerTitle, ReportText.MannerDescription([.. groups.Select(Row)], model.Study.SettingUnit),
            Draw,
            style => (int)(style.Scale * (FramePixels + (RowPixels * rows))))
        {
            IsDetail = manners.Length < 2,
        };

        (GroupKey Group, IReadOnlyList<(string Manner, int Count)> Shares, int Total) Row(GroupKey group)
        {
            SpecimenStrength[] own = [.. judged.Where(strength => strength.Group == group)];
            return (group, [.. manners.Select(manner => (manner, own.Count(strength => strength.Manner == manner)))], own.Length);
        }

        Plot Draw(PictureStyle asked)
        {
            double wanted = asked.Scale * (FramePixels + (RowPixels * rows));
            PictureStyle style = asked.ExactSize && wanted > asked.HeightPixels
                ? asked with { Scale = asked.Scale * asked.HeightPixels / wanted } : asked;
            Plot plot = Canvas.Make(style, ReportText.MannerAxis, "");
            Canvas.Title(plot, style, ReportText.MannerTitle);
            var ticks = new ScottPlot.TickGenerators.NumericManual();
            for (int row = 0; row < groups.Length; row++)
            {
                var (group, shares, total) = Row(groups[row]);
                double y = rows - row, from = 0;
                for (int i = 0; i < shares.Count; i++)
                {
                    double to = from + (100.0 * shares[i].Count / total);
                    if (shares[i].Count > 0)
                    {
                        var bar = plot.Add.Rectangle(from, to, y - .36, y + .36);
                        bar.FillStyle.Color = style.Series(i).WithAlpha(.8);
                        bar.LineStyle.Width = 0;
                        Canvas.Words(plot, new((from + to) / 2, y), $"{shares[i].Count}", style.Dark ? Colors.Black : Colors.White,
                            Alignment.MiddleCenter, bold: true);
                    }

                    from = to;
                }

                ticks.AddMajor(y, ReportText.MannerRow(group.Describe(model.Study.SettingUnit), total));
            }

            for (int i = 0; i < failed.Length; i++)
            {
                double y = failed.Length - i;
                Canvas.Words(plot, new(1, y), ReportText.NotPrintedMark.Replace('\n', ' '), style.Muted, Alignment.MiddleLeft);
                ticks.AddMajor(y, failed[i].Describe(model.Study.SettingUnit));
            }

            for (int i = 0; i < manners.Length; i++)
            {
                var key = plot.Add.Marker(-1000, 0, MarkerShape.FilledSquare, 12, style.Series(i).WithAlpha(.8));
                key.LegendText = ReportText.Manner(manners[i]);
            }

            plot.Axes.Left.TickGenerator = ticks;
            plot.Axes.Left.MajorTickStyle.Length = 0;
            plot.Grid.YAxisStyle.IsVisible = false;
            plot.Axes.SetLimits(0, 100, .4, rows + .6);
            Canvas.LegendOnTop(plot, style);
            string caveats = StudyPictures.Caveats(model);
            Canvas.Note(plot, style, ReportText.MannerNote + (caveats.Length > 0 ? "\n" + caveats : ""), Alignment.LowerLeft);
            return plot;
        }
    }
}
