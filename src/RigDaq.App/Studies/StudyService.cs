using RigDaq.App.Rigs;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Core.Trace;
using RigDaq.Reports.Labels;
using RigDaq.Rig.Control;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.App.Studies;

/// <summary>Makes studies, and chooses the one that is worked on, never under a sequence.</summary>
internal sealed class StudyService(RigArchive archive, ILiveRig rig, SequenceStartGate startGate, TimeProvider time)
{
    /// <summary>The labels to print and cut apart; null where there is nothing to label.</summary>
    internal byte[]? Labels(string studyId, bool blind) => Find(studyId) is { Specimens.Count: > 0 } study ? LabelSheet.Pdf(study, blind)
        : null;

    /// <summary>Chooses the study that is worked on.</summary>
    internal Task<Result> WorkAsync(StudyRequest asked) => startGate.DoAsync(() => Task.FromResult(Try(asked.Study, study =>
    {
        if (UnderWay is { } sequence)
            return Result.Refused("answers.notUnderASequence", ("study", sequence.Plan.StudyId), ("stage", sequence.Stage.Word()));
        archive.Studies.Choose(study.Id);
        return Result.Ok("answers.workedOn", ("study", study.Name));
    })));

    /// <summary>What a study would be, and what it would resolve; nothing is kept.</summary>
    internal Result LookAtPlan(StudyMakeRequest asked) => Result.Of(() =>
    {
        if (Made(asked, out Study study) is { } refusal) return refusal;
        (int groups, int comparisons) = (study.Groups().Count, StudyPairs.Of(study).Count);
        Sentence words = PageText.Sentence("answers.wouldBe", ("groups", groups), ("prints", study.Prints.Count),
            ("specimens", study.Specimens.Count), ("comparisons", comparisons));
        Sentence[] findings = [.. StudyRules.Check(study).Select(f => f.Text)];
        // Nothing compared, nothing to tell apart.
        if (asked.WithinPercent is not { } within || PlannedStudy.Of(study, within, asked.BetweenPercent, asked.StretchPercent) is not
            { } planned)
            return new Result(true, words, findings);
        return new Result(
            true, Result.Several(words, Sentence.Verbatim(Planning.Describe(planned.Question, planned.Prints, planned.Specimens))),
            [.. findings, .. planned.Outlooks().Select(outlook => outlook.Sentence)]);
    });

    /// <summary>Makes a study. Under a sequence the one that is worked on stays it, though a newer one is there now.</summary>
    internal Task<Result> MakeAsync(StudyMakeRequest asked) => startGate.DoAsync(() => Task.FromResult(Result.Of(() =>
    {
        if (Made(asked, out Study study) is { } refusal) return refusal;
        if (UnderWay is not null && archive.Studies.Chosen is null && archive.Studies.Active() is { } now) archive.Studies.Choose(now.Id);
        if (!archive.Studies.Add(study, AppText.StudyMade)) return ThereAlready(study.Id);
        return archive.Studies.Active() is { } worked && worked.Id != study.Id
            ? Result.Ok("answers.madeBeside", ("study", study.Name), ("worked", worked.Name))
            : Result.Ok("answers.made", ("study", study.Name));
    })));

    private Result? Made(StudyMakeRequest asked, out Study study)
    {
        study = asked.ToPlan().Make(time.GetUtcNow());
        return Find(study.Id) is null ? null : ThereAlready(study.Id);
    }

    private static Result ThereAlready(string studyId) => Result.Refused("answers.studyThereAlready", ("study", studyId));

    /// <summary>The sequence that is not finished: one that waits or is held will go on with its study.</summary>
    private SequenceSnapshot? UnderWay => rig.Snapshot.Sequence is { Stage: not SequenceStage.Finished } sequence ? sequence : null;

    internal Study? Find(string studyId) => studyId.Length is > 0 and <= RigArchive.LongestId ? archive.Studies.Find(studyId)
        : null;

    private Result Try(string studyId, Func<Study, Result> work) =>
        Result.Of(() => Find(studyId) is { } study ? work(study) : Result.Refused("answers.noSuchStudy"));
}
