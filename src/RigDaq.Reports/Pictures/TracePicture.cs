using RigDaq.Core.Quantities;
using RigDaq.Core.Specimens;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;
using ScottPlot;

namespace RigDaq.Reports.Pictures;

/// <summary>The traces of a group laid over one another from contact on, breaks marked.</summary>
internal static class TracePicture
{
    // Of the group's greatest force: where a trace counts as having begun.
    private const double ContactShare = 0.02;

    /// <summary>More lie over one another beyond telling apart, and make a page heavy.</summary>
    private const int MostTraces = 12;

    /// <summary>One picture a material and setting, conditions in their colours.</summary>
    public static IEnumerable<Picture> Of(StudyReportModel model)
    {
        // What was stopped, or is left out, shows nothing of its group.
        HashSet<string> counted = [.. model.Answer.Strengths.Where(strength => strength.Void is null).Select(strength => strength.RunId)];
        ReportTrace[] traces = [.. model.Traces.Where(trace => counted.Contains(trace.RunId))];
        double top = traces.Length == 0 ? 1 : traces.Max(trace => trace.ForcesNewtons.DefaultIfEmpty(0).Max());
        foreach (var place in traces.GroupBy(trace => (trace.Group.Material, trace.Group.Setting))
            .OrderBy(place => Array.IndexOf([.. model.Materials], place.Key.Material)).ThenBy(place => place.Key.Setting))
        {
            var groups = model.Conditions
                .Select(condition => Chosen([.. place.Where(trace => trace.Group.Condition == condition)], condition))
                .Where(group => group.Shown.Length > 0).ToArray();
            string name = string
                .Join(", ",
                new[]
                { place.Key.Material, GroupKey.SettingText(place.Key.Setting, model.Study.SettingUnit) }.Where(part => part.Length > 0));
            yield return new Picture(
                "traces-" + FileName.Of(name),
                ReportText.TracesTitle(name),
                ReportText.TracesDescription(string
                    .Join("; ", groups.Select(group => ReportText.TracesLegend(group.Condition, group.Shown.Length, group.All)))),
                style => Draw(style, model, name, groups, top))
            {
                IsDetail = true,
            };
        }
    }

    private static (string Condition, ReportTrace[] Shown, int All) Chosen(ReportTrace[] all, string condition)
    {
        // Spread evenly over the order of pulling, so that drift is not hidden.
        ReportTrace[] shown = all.Length <= MostTraces ? all
            : [.. Enumerable.Range(0, MostTraces).Select(i => all[(int)((long)i * all.Length / MostTraces)])];
        return (condition, shown, all.Length);
    }

    private static Plot Draw(PictureStyle style, StudyReportModel model, string name,
        (string Condition, ReportTrace[] Shown, int All)[] groups, double top)
    {
        Plot plot = Canvas.Make(style, ReportText.TimeAxis, ReportText.ForceAxis(model.Units));
        Canvas.Title(plot, style, ReportText.TracesTitle(name));
        double longest = 0;
        Unit unit = model.Units.Force;
        foreach (var (condition, shown, all) in groups)
        {
            int series = Math.Max(0, Array.IndexOf([.. model.Conditions], condition));
            Color color = style.Series(series);
            var ends = new List<Coordinates>();
            foreach (ReportTrace trace in shown)
            {
                double start = Start(trace, ContactShare * top);
                double[] times = [.. trace.TimesSeconds.Select(time => time - start)];
                var line = plot.Add.ScatterLine(times, [.. trace.ForcesNewtons.Select(unit.Of)], color.WithAlpha(.6));
                line.LineWidth = 1.3f;
                longest = Math.Max(longest, trace.BreakTimeSeconds is { } ended ? ended - start : times.LastOrDefault());
                if (trace.BreakTimeSeconds is { } breaks && (trace.BreakForceNewtons ?? ForceAt(trace, breaks)) is { } force) ends
                    .Add(new Coordinates(breaks - start, unit.Of(force)));
            }

            var marks = plot.Add.Markers(ends, PictureStyle.Shape(series), 9, color);
            marks.MarkerStyle.LineColor = color;
            marks.LegendText = ReportText.TracesLegend(condition, shown.Length, all);
        }

        plot.Axes.SetLimits(-0.04 * longest, longest * 1.12, 0, unit.Of(top) * 1.12);
        Canvas.LegendOnTop(plot, style);
        string caveats = StudyPictures.Caveats(model);
        Canvas.Note(plot, style, ReportText.TracesNote + (caveats.Length > 0 ? "\n" + caveats : ""), Alignment.UpperLeft);
        return plot;
    }

    internal static double Start(ReportTrace trace, double contactNewtons)
    {
        for (int i = 0; i < trace.ForcesNewtons.Count; i++)
        {
            if (trace.ForcesNewtons[i] <= contactNewtons) continue;
            if (i == 0) return trace.TimesSeconds[0];
            // A thinned trace has few points where it is straight.
            double share = (contactNewtons - trace.ForcesNewtons[i - 1]) / (trace.ForcesNewtons[i] - trace.ForcesNewtons[i - 1]);
            return trace.TimesSeconds[i - 1] + (Math.Clamp(share, 0, 1) * (trace.TimesSeconds[i] - trace.TimesSeconds[i - 1]));
        }

        return 0;
    }

    private static double? ForceAt(ReportTrace trace, double time)
    {
        int after = 0;
        while (after < trace.TimesSeconds.Count && trace.TimesSeconds[after] < time) after++;
        return after == 0 || trace.ForcesNewtons.Count == 0 ? null
            : Math.Max(trace.ForcesNewtons[after - 1], after < trace.ForcesNewtons.Count ? trace.ForcesNewtons[after] : 0);
    }
}
