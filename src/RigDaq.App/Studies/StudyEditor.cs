using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core.Groups;
using RigDaq.Core.Specimens;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.App.Studies;

/// <summary>Corrections of a study from the page: each a further version with its reason, and every version can be brought back.</summary>
internal sealed class StudyEditor(RigArchive archive, ILiveRig rig, TimeProvider time)
{
    /// <summary>Gives a condition another name, wherever it stands.</summary>
    internal Result Rename(StudyRequest asked) => Change(asked.Study, asked.Text, asked.Text,
        study => StudyCorrections.RenameCondition(study, asked.Condition, asked.NewName.Trim()));

    /// <summary>Brings an earlier version back as a further one.</summary>
    internal Result Back(StudyRequest asked)
    {
        if (rig.Snapshot.Sequence is { Stage: not SequenceStage.Finished } sequence && sequence.Plan.StudyId == asked.Study) return
            Result.Refused("answers.sequenceUnderWay");
        lock (archive.Studies.Correcting)
        {
            IReadOnlyList<StudyVersion> versions = archive.Studies.Versions(asked.Study);
            if (versions.Count != asked.Seen) return Result.Refused("answers.studyChangedMeanwhile");
            if (asked.To < 1 || asked.To >= versions.Count) return Result.Refused("answers.noSuchVersion");
            return Change(asked.Study, asked.Text, AppText.StudyBackTo(asked.To, asked.Text), _ => versions[asked.To - 1].Study);
        }
    }

    /// <summary>Sets a study against an earlier one, or pools it with that for the reason given, or takes it back.</summary>
    internal Result Against(StudyRequest asked)
    {
        if (asked.Other.Length is 0 or > RigArchive.LongestId || archive.Studies.Find(asked.Other) is not { } other) return
            Result.Refused("answers.noSuchStudy");
        DateTimeOffset now = time.GetUtcNow();
        bool pool = asked.Pool && !asked.Remove;
        string what = AppText.AgainstBecause(other.Id, pool ? asked.Text.Trim() : null, asked.Remove);
        return Change(asked.Study, asked.Text, pool ? what : Because(what, asked), study => asked.Remove
            ? StudyCorrections.NotAgainst(study, other.Id)
            : StudyCorrections.SetAgainst(
                study, EarlierResults.Of(other, archive.Runs.OfStudy(other.Id), now) with
                {
                    PooledBecause = pool ? asked.Text.Trim() : null,
                    GivesScatter = !asked.NoScatter,
                    FromElsewhere = archive.Studies.Origins.ContainsKey(other.Id),
                }));
    }

    /// <summary>Marks the control of a study, or takes the mark back.</summary>
    internal Result Control(StudyRequest asked) =>
        Change(asked.Study, asked.Text, Because(AppText.ControlNow(asked.Study, asked.Remove ? null : asked.Group.Trim()), asked),
        study => StudyCorrections.MarkControl(study, asked.Remove ? null : GroupName.Find(asked.Group, study.Groups())));

    /// <summary>What was done, and why.</summary>
    private static string Because(string what, StudyRequest asked) => $"{what}: {asked.Text.Trim()}";

    /// <summary>Changes a study and what of its runs follows from it.</summary>
    /// <param name="studyId">Which study.</param>
    /// <param name="why">Why, in the person's own words; refused where there are none.</param>
    /// <param name="reason">What is kept with the version.</param>
    /// <param name="change">The change, of the study as it is at that moment.</param>
    internal Result Change(string studyId, string why, string reason, Func<Study, Study> change) => Result.Of(() =>
    {
        if (studyId.Length is 0 or > RigArchive.LongestId) return Result.Refused("answers.noSuchStudy");
        if (string.IsNullOrWhiteSpace(why) && archive.Studies.Find(studyId) is not null) return Result.Refused("answers.sayWhy");
        StudyEdit edit = StudyRecompute.Edit(archive, studyId, change, reason, reason, time.GetUtcNow());
        Sentence kept = PageText.Sentence("answers.studyChanged", ("reason", reason));
        if (edit.Revised > 0) kept = Result.Several(kept, PageText.Sentence("answers.runsRevised", ("n", edit.Revised)));
        return new Result(true, kept, [.. edit.PlanChanges.Select(Sentence.Verbatim)]);
    });
}
