using RigDaq.Archive;
using RigDaq.Archive.Faults;
using RigDaq.Core;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Publishing.Messages;
using RigDaq.Text;

namespace RigDaq.App.Studies;

/// <summary>Brings a study's runs up to its present sections: each run whose section changed gets a further revision, from its raw
/// pull.</summary>
internal static class StudyRecompute
{
    /// <summary>
    /// Corrects a study, for pages and commands alike: what the rules allow, with a note of what it does to a frozen plan, and the runs
    /// that it makes others. All of it is kept, or none.
    /// </summary>
    /// <param name="archive">Where they are kept.</param>
    /// <param name="studyId">Which study.</param>
    /// <param name="change">The change, of the study as it is at that moment.</param>
    /// <param name="reason">Why, for the study's version.</param>
    /// <param name="runReason">Why, for the runs' revisions.</param>
    /// <param name="now">When.</param>
    /// <exception cref="RefusalException">There is no such study, or the change or the rules refuse it.</exception>
    /// <exception cref="IOException">It could not be kept, or it is not known; the message says which.</exception>
    /// <exception cref="ArchiveConflictException">A run was revised meanwhile; nothing was changed.</exception>
    public static StudyEdit Edit(RigArchive archive, string studyId, Func<Study, Study> change, string reason, string runReason,
        DateTimeOffset now)
    {
        lock (archive.Studies.Correcting)
        {
            Study before = archive.Studies.Find(studyId) ?? throw Refusal.Of("answers.noSuchStudy");
            Study after = change(before);
            IReadOnlyList<StudyFinding> findings = StudyRules.Check(after);
            Sentence[] refused = [.. findings.Where(f => f.Refused).Select(f => f.Text)];
            if (refused.Length > 0) throw new RefusalException(refused);
            IReadOnlyList<string> plan = StudyCorrections.PlanChanges(before, after);
            int revised = archive.Studies.Change(studyId, _ => after, string.Join("; ", [reason, .. plan]),
                changed => Revisions(archive, changed, runReason, now))?.Revised ?? 0;
            return new StudyEdit(after, revised, plan, findings);
        }
    }

    /// <summary>Keeps a run's move to another specimen with all that follows from it for strengths, all or none.</summary>
    /// <param name="archive">Where they are kept.</param>
    /// <param name="moved">The revision that moves the run.</param>
    /// <param name="reason">Why, for what is computed again.</param>
    /// <param name="now">When.</param>
    /// <exception cref="IOException">It could not be kept, or it is not known; the message says which.</exception>
    /// <exception cref="ArchiveConflictException">The run was revised meanwhile; nothing was changed.</exception>
    public static void Move(RigArchive archive, Run moved, string reason, DateTimeOffset now) =>
        archive.Studies.Change(moved.Head.StudyId, kept => kept, reason,
            study => [(moved, RunMessage.From(moved, study).ToOutbox()), .. Revisions(archive, study, reason, now, moved)]);

    private static List<(Run Revision, OutboxMessage Message)> Revisions(RigArchive archive, Study study, string reason, DateTimeOffset now,
        Run? moved = null)
    {
        var revisions = new List<(Run, OutboxMessage)>();
        foreach (Run run in archive.Runs.OfStudy(study.Id).Select(run => run.Head.RunId == moved?.Head.RunId ? moved : run))
        {
            double? area = SectionCalculation.ForSpecimen(study, run.Head.SpecimenId).Section?.AreaSquareMillimetres;
            if (area == run.Strength?.AreaSquareMillimetres || run.Ending is not (PullEnding.Broken or PullEnding.PartlyBroken)) continue;
            if (archive.Runs.FindPull(run.Head.RunId) is not { } pull) continue;

            // A moved run knows its specimen; its raw pull still names the one it was pulled as.
            pull = pull with { Head = pull.Head with { SpecimenId = run.Head.SpecimenId } };
            Run anew = RunCalculation.Calculate(pull, study, archive.Calibrations.Find(run.Head.CalibrationId), now,
                archive.Compliances.ReadWith(run)?.ToCompliance());
            if (anew.Strength == run.Strength) continue;
            Run revised = RunCorrections.Recompute(run with { Warnings = anew.Warnings }, anew.Reading, anew.Strength, reason, now);
            revisions.Add((revised, RunMessage.From(revised, study).ToOutbox()));
        }

        return revisions;
    }
}

/// <summary>What a correction of a study did.</summary>
/// <param name="Study">The study as it is now.</param>
/// <param name="Revised">How many runs were revised.</param>
/// <param name="PlanChanges">What it did to a frozen plan.</param>
/// <param name="Findings">What the rules remark.</param>
internal sealed record StudyEdit(Study Study, int Revised, IReadOnlyList<string> PlanChanges, IReadOnlyList<StudyFinding> Findings);
