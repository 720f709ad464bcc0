using RigDaq.Archive;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;
using RigDaq.Daemon.Recording;

namespace RigDaq.Daemon.Commands;

/// <summary>Brings a study's runs up to its present sections: each run whose section changed gets a further revision, from its raw pull.</summary>
internal static class StudyRecompute
{
    /// <summary>Revises what has changed and says how many runs that were.</summary>
    public static int Run(RigArchive archive, Study study, string reason, DateTimeOffset now)
    {
        int revised = 0;
        foreach (Run run in archive.OfStudy(study.Id))
        {
            double? area = SectionCalculation.ForSpecimen(study, run.Head.SpecimenId).Section?.AreaSquareMillimetres;
            if (area == run.Strength?.AreaSquareMillimetres || run.Ending is not (PullEnding.Broken or PullEnding.PartlyBroken)) continue;
            if (archive.FindPull(run.Head.RunId) is not { } pull) continue;

            // A moved run knows its specimen; its raw pull still names the one it was pulled as.
            pull = pull with { Head = pull.Head with { SpecimenId = run.Head.SpecimenId } };
            Run anew = RunCalculation.Calculate(pull, study, archive.Calibrations.Find(run.Head.CalibrationId), now, archive.Of(run)?.ToCompliance());
            if (anew.Strength == run.Strength) continue;
            archive.ReviseAndTell(RunCorrections.Recompute(run with { Warnings = anew.Warnings }, anew.Reading, anew.Strength, reason, now));
            revised++;
        }

        return revised;
    }
}
