using RigDaq.App;
using RigDaq.App.Rigs;
using RigDaq.App.Studies;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core;
using RigDaq.Core.Specimens;
using RigDaq.Core.Statistics;
using RigDaq.Reports.Labels;
using RigDaq.Rig.Control;
using RigDaq.Rig.PlainDevices;
using RigDaq.Rig.Sequencing;
using RigDaq.Web.Views;

namespace RigDaq.Web.Services;

/// <summary>Shows studies, makes them, and chooses the one that is worked on, never under a sequence.</summary>
internal sealed class StudyService(RigArchive archive, ILiveRig rig, SequenceStartGate startGate, TimeProvider time)
{
    /// <summary>The list is for eyes; the terminal tells all.</summary>
    private const int ShownMax = 100;

    /// <summary>The studies, newest first.</summary>
    internal StudiesView List(bool mayChange)
    {
        IReadOnlyList<Study> all = archive.All();
        Standing standing = Now();
        return new StudiesView(mayChange, [.. all.Take(ShownMax).Select(study => standing.ItemOf(study, Pulled(study.Id)))], Math.Max(0, all.Count - ShownMax));
    }

    /// <summary>Every group that was measured here, and every control over its sessions.</summary>
    internal EarlierView Earlier() => EarlierView.Of(archive, archive, time.GetUtcNow());

    /// <summary>A study's page; of the one that is worked on where none is named; null where there is none.</summary>
    internal StudyPageView? Page(string? studyId, bool mayChange)
    {
        if ((string.IsNullOrEmpty(studyId) ? ActiveStudy.Of(archive) : Find(studyId)) is not { } study) return null;
        HashSet<string> pulled = Pulled(study.Id);
        return StudyPageView.From(study, Now().ItemOf(study, pulled), pulled, mayChange);
    }

    /// <summary>The labels to print and cut apart; null where there is nothing to label.</summary>
    internal byte[]? Labels(string studyId, bool blind) => Find(studyId) is { Specimens.Count: > 0 } study ? LabelSheet.Pdf(study, blind) : null;

    /// <summary>Chooses the study that is worked on.</summary>
    internal Task<Result> WorkAsync(StudyRequest ask) => startGate.DoAsync(() => Task.FromResult(Try(ask.Study, study =>
    {
        if (UnderWay is { } sequence)
            return Result.Refused("answers.notUnderASequence", ("study", sequence.Plan.StudyId), ("stage", sequence.Stage.Word()));
        archive.Choose(study.Id);
        return Result.Ok(PageText.Of("answers.workedOn", ("study", study.Name)));
    })));

    /// <summary>What a study would be, and what it would resolve; nothing is kept.</summary>
    internal Result LookAtPlan(StudyMakeRequest ask) => Try(() =>
    {
        if (Made(ask, out Study study) is { } refusal) return refusal;
        (int groups, int comparisons) = (study.Groups().Count, StudyPairs.Of(study).Count);
        string words = PageText.Of("answers.wouldBe", ("groups", groups), ("prints", study.Prints.Count), ("specimens", study.Specimens.Count), ("comparisons", comparisons));
        string[] findings = [.. StudyRules.Check(study).Select(f => f.Text)];
        // Nothing compared, nothing to tell apart.
        if (ask.WithinPercent is not { } within || PlannedStudy.Of(study, within, ask.BetweenPercent, ask.StretchPercent) is not { } planned)
            return new Result(true, words, findings);
        return new Result(
            true, $"{words} {Planning.Describe(planned.Question, planned.Prints, planned.Specimens)}",
            [.. findings, .. planned.Outlooks().Select(outlook => outlook.Sentence)]);
    });

    /// <summary>Makes a study. Under a sequence the one that is worked on stays it, though a newer one is there now.</summary>
    internal Task<Result> MakeAsync(StudyMakeRequest ask) => startGate.DoAsync(() => Task.FromResult(Try(() =>
    {
        if (Made(ask, out Study study) is { } refusal) return refusal;
        if (UnderWay is not null && archive.Chosen is null && ActiveStudy.Of(archive) is { } now) archive.Choose(now.Id);
        archive.Save(study, AppText.StudyMade);
        return Result.Ok(ActiveStudy.Of(archive) is { } worked && worked.Id != study.Id
            ? PageText.Of("answers.madeBeside", ("study", study.Name), ("worked", worked.Name)) : PageText.Of("answers.made", ("study", study.Name)));
    })));

    private Result? Made(StudyMakeRequest ask, out Study study)
    {
        study = ask.ToPlan().Make(time.GetUtcNow());
        return Find(study.Id) is null ? null : Result.Refused("answers.studyThereAlready", ("study", study.Id));
    }

    /// <summary>The sequence that is not finished: one that waits or is held will go on with its study.</summary>
    private SequenceSnapshot? UnderWay => rig.Snapshot.Sequence is { Stage: not SequenceStage.Finished } sequence ? sequence : null;

    private Standing Now() => new(ActiveStudy.Of(archive)?.Id, archive.Chosen is not null, archive.Origins);

    private HashSet<string> Pulled(string studyId) => [.. archive.OfStudy(studyId).Select(run => run.Head.SpecimenId)];

    private Study? Find(string studyId) => studyId.Length is > 0 and <= RigArchive.LongestId ? ((IStudyArchive)archive).Find(studyId) : null;

    private Result Try(string studyId, Func<Study, Result> work) =>
        Try(() => Find(studyId) is { } study ? work(study) : Result.Refused("answers.noSuchStudy"));

    private static Result Try(Func<Result> work)
    {
        try
        {
            return work();
        }
        catch (RefusalException fault)
        {
            return Result.Because(fault.Message);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return Result.Refused("answers.notKept", ("why", fault.Message));
        }
    }

    private sealed record Standing(string? WorkedOn, bool Chosen, IReadOnlyDictionary<string, StudyOrigin> Origins)
    {
        internal StudyItem ItemOf(Study study, HashSet<string> pulled) => new(
            study.Id, study.Name, study.CreatedAt, Origins.GetValueOrDefault(study.Id), study.Specimens.Count, study.Specimens.Count(s => pulled.Contains(s.Id)),
            study.PlanFrozenAt, study.Id == WorkedOn, study.Id == WorkedOn && Chosen);
    }
}
