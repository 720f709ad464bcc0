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

    public static IEnumerable<Picture> Of(StudyReportModel model)
    {
        double top = model.Traces.Count == 0 ? 1 : model.Traces.Max(trace => trace.ForcesNewtons.DefaultIfEmpty(0).Max());
        foreach (var group in model.Traces.GroupBy(trace => trace.Group))
        {
            ReportTrace[] traces = [.. group];
            string name = group.Key.Describe(model.Study.SettingUnit);
            yield return new Picture(
                "traces-" + FileName.Of(name),
                ReportText.TracesTitle(name),
                ReportText.TracesDescription(name, traces.Length),
                style => Draw(style, model, group.Key, traces, top))
            {
                IsDetail = true,
            };
        }
    }

    private static Plot Draw(PictureStyle style, StudyReportModel model, GroupKey group, ReportTrace[] traces, double top)
    {
        Plot plot = Canvas.Make(style, ReportText.TimeAxis, ReportText.ForceAxis);
        Canvas.Title(plot, style, ReportText.TracesTitle(group.Describe(model.Study.SettingUnit)));
        double longest = 0;
        for (int i = 0; i < traces.Length; i++)
        {
            Color color = style.Series(0).WithAlpha(.6);
            double start = Start(traces[i], ContactShare * top);
            double[] times = [.. traces[i].TimesSeconds.Select(time => time - start)];
            var line = plot.Add.ScatterLine(times, [.. traces[i].ForcesNewtons], color);
            line.LineWidth = 1.3f;
            longest = Math.Max(longest, traces[i].BreakTimeSeconds is { } ended ? ended - start : times.LastOrDefault());
            if (traces[i].BreakTimeSeconds is not { } breaks || ForceAt(traces[i], breaks) is not { } force) continue;
            var mark = plot.Add.Marker(breaks - start, force, MarkerShape.Eks, 10, style.Series(1));
            mark.MarkerStyle.LineWidth = 2;
        }

        plot.Axes.SetLimits(-0.04 * longest, longest * 1.12, 0, top * 1.08);
        string caveats = StudyPictures.Caveats(model);
        Canvas.Note(plot, style, ReportText.TracesNote(traces.Length) + (caveats.Length > 0 ? "\n" + caveats : ""), Alignment.UpperLeft);
        return plot;
    }

    private static double Start(ReportTrace trace, double contactNewtons)
    {
        for (int i = 0; i < trace.ForcesNewtons.Count; i++)
        {
            if (trace.ForcesNewtons[i] > contactNewtons) return trace.TimesSeconds[i];
        }

        return 0;
    }

    private static double? ForceAt(ReportTrace trace, double time)
    {
        int after = 0;
        while (after < trace.TimesSeconds.Count && trace.TimesSeconds[after] < time) after++;
        return after == 0 || trace.ForcesNewtons.Count == 0 ? null : Math.Max(trace.ForcesNewtons[after - 1], after < trace.ForcesNewtons.Count ? trace.ForcesNewtons[after] : 0);
    }
}
