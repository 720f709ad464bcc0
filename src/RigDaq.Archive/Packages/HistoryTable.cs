using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;

namespace RigDaq.Archive.Packages;

/// <summary>What was changed of the study and its runs, when, why, and from what to what.</summary>
internal static class HistoryTable
{
    public static PackageTable Of(StudyPackageContent content) => new(
        "history",
        "Every version of the study and every change that a revision of a run made, in the order of time",
        [
            new("at", "datetime", "When"), new("record", "string", "study or run"), new("run_id", "string", "The run; missing for the study"),
            new("specimen_id", "string", "The run's specimen"), new("version", "integer", "Of the study, from 1; of a run its revision"),
            new("reason", "string", "Why, in the words that were given"), new("what", "string", "What changed; missing where no figure or word here did"),
            new("from_value", "number", "The figure before; MPa for strength, mm² for section, N for peak force"), new("to_value", "number", "The figure after"),
            new("from_words", "string", "The words before"), new("to_words", "string", "The words after"),
        ],
        Rows(content),
        []);

    private static IEnumerable<IReadOnlyList<object?>> Rows(StudyPackageContent content) =>
        Study(content.Versions).Concat(content.Histories.SelectMany(RunChange.Of).Select(Row)).OrderBy(row => row.At).Select(row => row.Cells);

    private static IEnumerable<(DateTimeOffset At, IReadOnlyList<object?> Cells)> Study(IReadOnlyList<StudyVersion> versions)
    {
        for (int i = 0; i < versions.Count; i++)
        {
            StudyVersion version = versions[i];
            string[] plan = i == 0 ? [] : [.. StudyCorrections.PlanChanges(versions[i - 1].Study, version.Study)];
            yield return (version.At, [version.At, "study", null, null, i + 1, Words(version.Reason), plan.Length == 0 ? null : string.Join("; ", plan), null, null, null, null]);
        }
    }

    private static (DateTimeOffset At, IReadOnlyList<object?> Cells) Row(RunChange change) => (change.At,
    [
        change.At, "run", change.RunId, change.SpecimenId, change.Revision, Words(change.Reason), What(change.Kind),
        change.FromValue, change.ToValue, Words(change.From), Words(change.To),
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
