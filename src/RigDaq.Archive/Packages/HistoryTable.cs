using RigDaq.Archive.Text;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Packages;

/// <summary>What was changed of the study and its runs, when, why, and from what to what.</summary>
internal static class HistoryTable
{
    public static PackageTable Of(StudyPackageContent content) => new(
        "history",
        ArchiveText.HistoryTitle,
        [
            new("at", "datetime", ArchiveText.HistoryAt), new("record", "string", ArchiveText.HistoryRecord),
                new("run_id", "string", ArchiveText.HistoryRunId),
            new("specimen_id", "string", ArchiveText.HistorySpecimenId), new("version", "integer", ArchiveText.HistoryVersion),
            new("reason", "string", ArchiveText.HistoryReason), new("what", "string", ArchiveText.HistoryWhat),
            new("from_value", "number", ArchiveText.HistoryFromValue), new("to_value", "number", ArchiveText.HistoryToValue),
            new("from_words", "string", ArchiveText.HistoryFromWords), new("to_words", "string", ArchiveText.HistoryToWords),
            new("by_name", "string", ArchiveText.HistoryByName), new("by_from", "string", ArchiveText.HistoryByFrom),
        ],
        Rows(content),
        []);

    private static IEnumerable<IReadOnlyList<object?>> Rows(StudyPackageContent content) =>
        Study(content.Versions).Concat(content.Histories.SelectMany(RunChange.Of).Select(Row)).OrderBy(row => row.At)
            .Select(row => row.Cells);

    private static IEnumerable<(DateTimeOffset At, IReadOnlyList<object?> Cells)> Study(IReadOnlyList<StudyVersion> versions)
    {
        for (int i = 0; i < versions.Count; i++)
        {
            StudyVersion version = versions[i];
            string[] plan = i == 0 ? [] : [.. StudyCorrections.PlanChanges(versions[i - 1].Study, version.Study)];
            yield return
                (version.At, [version.At, "study", null, null, i + 1, Words(version.Reason), plan.Length == 0 ? null
                : string.Join("; ", plan), null, null, null, null, version.By?.Name, version.By?.From]);
        }
    }

    private static (DateTimeOffset At, IReadOnlyList<object?> Cells) Row(RunChange change) => (change.At,
    [
        change.At, "run", change.RunId, change.SpecimenId, change.Revision, Words(change.Reason), What(change.Kind),
        change.FromValue, change.ToValue, Words(change.FileFrom), Words(change.FileTo), change.By?.Name, change.By?.From,
    ]);

    private static string? What(RunChangeKind kind) => kind switch
    {
        RunChangeKind.Nothing => null,
        RunChangeKind.LeftOut => "left out",
        RunChangeKind.PeakForce => "peak force",
        _ => kind.ToString().ToLowerInvariant(),
    };

    private static string? Words(string text) => text.Length == 0 ? null : text;
}
