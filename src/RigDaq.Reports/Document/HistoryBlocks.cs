using RigDaq.Core.Callers;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Reports.Model;
using RigDaq.Reports.Text;

namespace RigDaq.Reports.Document;

/// <summary>What was changed after the pulling began: when, what, why, from what to what.</summary>
internal static class HistoryBlocks
{
    /// <summary>A correction of more runs than this in one go is told in one row.</summary>
    private const int RunsToldSingly = 5;

    public static IEnumerable<Block> Of(StudyReportModel model)
    {
        yield return new Heading(ReportText.ChangedHeading);
        HistoryRow[] rows = [.. Runs(model).Concat(Versions(model)).OrderBy(row => row.At)];
        if (rows.Length == 0)
        {
            yield return new Paragraph(ReportText.NothingChanged);
            yield break;
        }

        // Where nobody's name is known a column of dashes would say nothing.
        bool names = rows.Any(row => row.By.Length > 0);
        yield return new Table(
            ReportText.ChangedCaption,
            [new(ReportText.ChangedAtColumn), new(ReportText.ChangedWhatColumn), new(ReportText.ReasonColumn),
                new(ReportText.FromToColumn), .. names ? [new(ReportText.ByColumn)] : Array.Empty<Column>()],
            [.. rows.Select(row => (IReadOnlyList<string>)[.. row.Cells, .. names ? [Or(row.By)] : Array.Empty<string>()])],
            names ? ReportText.ChangedNote : ReportText.ChangedNoteNoNames);
    }

    /// <summary>What of a frozen plan was changed, with its moment and reason; it belongs beside the verdicts.</summary>
    public static IEnumerable<string> PlanChanges(StudyReportModel model) =>
        model.Versions.Zip(model.Versions.Skip(1)).SelectMany(pair => StudyCorrections.PlanChanges(pair.First.Study, pair.Second.Study)
        .Select(change => ReportText.PlanChanged(change, pair.Second.At, pair.Second.Reason)));

    private static IEnumerable<HistoryRow> Runs(StudyReportModel model) =>
        model.Changes.GroupBy(change => (change.Reason, change.By, Minute: change.At.UtcTicks / TimeSpan.TicksPerMinute)).SelectMany(made =>
        {
            RunChange[] changes = [.. made];
            int runs = changes.Select(change => change.RunId).Distinct().Count();
            return runs > RunsToldSingly
                ? [Row(changes[0].At, made.Key.By, ReportText.RunsChanged(runs), made.Key.Reason, ReportText.ChangesTogether(changes))]
                : changes.GroupBy(change => (change.RunId, change.Revision)).Select(revision => Row(revision.First().At, made.Key.By,
                    revision.First().SpecimenId, made.Key.Reason,
                    string.Join("; ", revision.Select(change => ReportText.ChangeWords(change, model.Units)))));
        });

    // Before the first pull a study is being made; only what came after can have followed the figures.
    private static IEnumerable<HistoryRow> Versions(StudyReportModel model)
    {
        if (model.Runs.Count == 0) return [];
        DateTimeOffset began = model.Runs.Min(run => run.Head.StartedAt);
        // The first pull freezes the plan by itself: that is no correction.
        return model.Versions.Zip(model.Versions.Skip(1)).Where(pair => pair.Second.At > began
            && (pair.First.Study.PlanFrozenAt is not null || pair.Second.Study.PlanFrozenAt is null)).Select(pair => Row(pair.Second.At,
                pair.Second.By, ReportText.TheStudy, pair.Second.Reason,
                string.Join("; ", StudyCorrections.PlanChanges(pair.First.Study, pair.Second.Study))));
    }

    private static HistoryRow Row(DateTimeOffset at, By? by, string what, string reason, string change) =>
        new(at, by?.Name ?? "", [ReportText.ShortMoment(at), what, Or(reason), Or(change)]);

    private static string Or(string text) => text.Length == 0 ? ReportText.None : text;

    private sealed record HistoryRow(DateTimeOffset At, string By, string[] Cells);
}
