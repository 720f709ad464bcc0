using RigDaq.Archive;
using RigDaq.Core.Specimens;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Daemon.Dashboard;

/// <summary>Lists studies and chooses the one that is worked on, never under a sequence.</summary>
internal sealed class StudyDesk(RigArchive archive, IDashboardRig rig, OneAtATime oneAtATime)
{
    /// <summary>The list is for eyes; the terminal tells all.</summary>
    private const int ShownMax = 100;

    /// <summary>The studies, newest first.</summary>
    internal StudiesView List(bool mayChange)
    {
        IReadOnlyList<Study> all = archive.All();
        IReadOnlyDictionary<string, StudyOrigin> origins = archive.Origins;
        (string? worked, bool chosen) = (StudyAtWork.Of(archive)?.Id, archive.Chosen is not null);
        return new StudiesView(mayChange, [.. all.Take(ShownMax).Select(study => new StudyItem(
            study.Id, study.Name, study.CreatedAt, origins.GetValueOrDefault(study.Id), study.Specimens.Count, Pulled(study.Id).Count, study.PlanFrozenAt,
            study.Id == worked, study.Id == worked && chosen))], Math.Max(0, all.Count - ShownMax));
    }

    /// <summary>Chooses the study that is worked on.</summary>
    internal Task<CommandResult> WorkAsync(StudyAsk ask) => oneAtATime.DoAsync(() => Task.FromResult(Work(ask)));

    private CommandResult Work(StudyAsk ask)
    {
        if (Find(ask.Study) is not { } study) return CommandResult.Refused(PageText.Of("answers.noSuchStudy"));
        if (UnderWay is { } sequence)
            return CommandResult.Refused(PageText.Of("answers.notUnderASequence", ("study", sequence.Plan.StudyId), ("stage", sequence.Stage.Word())));
        try
        {
            archive.Choose(study.Id);
            return CommandResult.Ok(PageText.Of("answers.workedOn", ("study", study.Name)));
        }
        catch (IOException fault)
        {
            return CommandResult.Refused(PageText.Of("answers.notKept", ("why", fault.Message)));
        }
    }

    /// <summary>The sequence that is not finished: one that waits or is held will go on with its study.</summary>
    private SequenceSnapshot? UnderWay => rig.Snapshot.Sequence is { Stage: not SequenceStage.Finished } sequence ? sequence : null;

    private HashSet<string> Pulled(string studyId) => [.. archive.OfStudy(studyId).Select(run => run.Head.SpecimenId)];

    private Study? Find(string studyId) => studyId.Length is > 0 and <= RigArchive.LongestId ? ((IStudyArchive)archive).Find(studyId) : null;
}
