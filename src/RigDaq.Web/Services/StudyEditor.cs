using RigDaq.App;
using RigDaq.App.Studies;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Core;
using RigDaq.Core.Groups;
using RigDaq.Core.Specimens;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Web.Views;

namespace RigDaq.Web.Services;

/// <summary>Corrections of a study from the page: each a further version with its reason, and every version can be brought back.</summary>
internal sealed class StudyEditor(RigArchive archive, ILiveRig rig, TimeProvider time)
{
    /// <summary>The list is for eyes; a study whose pieces were measured has hundreds.</summary>
    private const int ShownMax = 200;

    /// <summary>A study's versions, the latest first; empty where there is no such study.</summary>
    internal StudyVersionsView Versions(string studyId)
    {
        IReadOnlyList<StudyVersion> versions = archive.Versions(studyId);
        return new StudyVersionsView(versions.Count, [.. versions.Select((version, i) => new StudyVersionItem(i + 1, version.At, version.Reason)).Reverse().Take(ShownMax)]);
    }

    /// <summary>Gives a condition another name, wherever it stands.</summary>
    internal Result Rename(StudyRequest ask) => Change(ask.Study, ask.Text, ask.Text, study => StudyCorrections.RenameCondition(study, ask.Condition, ask.NewName.Trim()));

    /// <summary>Brings an earlier version back as a further one.</summary>
    internal Result Back(StudyRequest ask)
    {
        if (rig.Snapshot.Sequence is { Stage: not SequenceStage.Finished } sequence && sequence.Plan.StudyId == ask.Study) return Result.Refused("answers.sequenceUnderWay");
        lock (archive.Correcting)
        {
            IReadOnlyList<StudyVersion> versions = archive.Versions(ask.Study);
            if (versions.Count != ask.Of) return Result.Refused("answers.studyChangedMeanwhile");
            if (ask.To < 1 || ask.To >= versions.Count) return Result.Refused("answers.noSuchVersion");
            return Change(ask.Study, ask.Text, AppText.StudyBackTo(ask.To, ask.Text), _ => versions[ask.To - 1].Study);
        }
    }

    /// <summary>Sets a study against an earlier one, or pools it with that for the reason given, or takes it back.</summary>
    internal Result Against(StudyRequest ask)
    {
        if (ask.Other.Length is 0 or > RigArchive.LongestId || archive.Studies.Find(ask.Other) is not { } other) return Result.Refused("answers.noSuchStudy");
        DateTimeOffset now = time.GetUtcNow();
        bool pool = ask.Pool && !ask.Remove;
        string what = AppText.AgainstBecause(other.Id, pool ? ask.Text.Trim() : null, ask.Remove);
        return Change(ask.Study, ask.Text, pool ? what : Because(what, ask), study => ask.Remove
            ? StudyCorrections.NotAgainst(study, other.Id)
            : StudyCorrections.SetAgainst(
                study, EarlierResults.Of(other, archive.OfStudy(other.Id), now) with
                {
                    PooledBecause = pool ? ask.Text.Trim() : null,
                    GivesScatter = !ask.NoScatter,
                    FromElsewhere = archive.Origins.ContainsKey(other.Id),
                }));
    }

    /// <summary>Marks the control of a study, or takes the mark back.</summary>
    internal Result Control(StudyRequest ask) => Change(
        ask.Study, ask.Text, Because(AppText.ControlNow(ask.Study, ask.Remove ? null : ask.Group.Trim()), ask),
        study => StudyCorrections.MarkControl(study, ask.Remove ? null : GroupName.Find(ask.Group, study.Groups())));

    /// <summary>What was done, and why.</summary>
    private static string Because(string what, StudyRequest ask) => $"{what}: {ask.Text.Trim()}";

    /// <summary>Changes a study and what of its runs follows from it.</summary>
    /// <param name="studyId">Which study.</param>
    /// <param name="why">Why, in the person's own words; refused where there are none.</param>
    /// <param name="reason">What is kept with the version.</param>
    /// <param name="change">The change, of the study as it is at that moment.</param>
    internal Result Change(string studyId, string why, string reason, Func<Study, Study> change)
    {
        if (studyId.Length is 0 or > RigArchive.LongestId || archive.Studies.Find(studyId) is not { } before) return Result.Refused("answers.noSuchStudy");
        if (string.IsNullOrWhiteSpace(why)) return Result.Refused("answers.sayWhy");
        try
        {
            string[] plan = [.. StudyCorrections.PlanChanges(before, Allowed(change(before)))];
            int revised = StudyRecompute.Change(
                archive, before.Id, now => Allowed(change(now)), string.Join("; ", [reason, .. plan]), reason, time.GetUtcNow())?.Revised ?? 0;
            string kept = PageText.Of("answers.studyChanged", ("reason", reason));
            return new Result(true, revised == 0 ? kept : $"{kept} {PageText.Of("answers.runsRevised", ("n", revised))}", plan);
        }
        catch (RefusalException fault)
        {
            return Result.Because(fault.Message);
        }
        catch (ArchiveConflictException)
        {
            return Result.Refused("answers.studyChangedMeanwhile");
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return Result.Refused("answers.notKept", ("why", fault.Message));
        }
    }

    private static Study Allowed(Study study) => StudyRules.Check(study).FirstOrDefault(f => f.Refused) is { } fault ? throw new RefusalException(fault.Text) : study;
}
