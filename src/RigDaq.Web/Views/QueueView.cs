using RigDaq.App.Overview;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Rig.Control;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Web.Views;

/// <summary>The specimens of a sequence with what became of each.</summary>
internal sealed record QueueView(string SequenceId, IReadOnlyList<QueueItem> Specimens)
{
    public string Type { get; } = "queue";

    internal static QueueView From(SequenceSnapshot q, StudyView? study) => new(q.Plan.SequenceId, [.. q.Specimens.Select(s =>
        new QueueItem(
            s.SpecimenId,
            s.State switch
            {
                SpecimenState.Waiting => "waiting",
                SpecimenState.Current => "now",
                SpecimenState.Pulled => "pulled",
                _ => "skipped",
            },
            s.Ending?.Word(),
            study?.GroupOfSpecimen.GetValueOrDefault(s.SpecimenId) is { } group ? GroupWords.Of(group, study.SettingUnit) : ""))]);
}

/// <summary>One specimen of the list.</summary>
internal sealed record QueueItem(string Id, string State, string? Ending, string Group);
