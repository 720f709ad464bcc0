using RigDaq.Core.Calibration;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;

namespace RigDaq.Archive.Packages;

/// <summary>What a study's package is made of.</summary>
/// <param name="Study">The study.</param>
/// <param name="Histories">Each run with all its revisions, the first first; runs in the order they were pulled.</param>
/// <param name="Calibrations">Those that the runs name.</param>
/// <param name="PullOf">A run's raw pull, or null.</param>
internal sealed record StudyPackageContent(
    Study Study, IReadOnlyList<IReadOnlyList<Run>> Histories, IReadOnlyList<CalibrationRecord> Calibrations, Func<string, PullRecord?> PullOf)
{
    public IReadOnlyList<Run> Latest { get; } = [.. Histories.Select(history => history[^1])];

    /// <exception cref="ArchiveException">The archive has no such study.</exception>
    public static StudyPackageContent Of(RigArchive archive, string studyId)
    {
        Study study = archive.Studies.Find(studyId) ?? throw new ArchiveException(
            $"There is no study '{studyId}'. There are: {(archive.All().Count == 0 ? "none" : string.Join(", ", archive.All().Select(known => known.Id)))}.");
        IReadOnlyList<Run> runs = archive.OfStudy(studyId);
        return new StudyPackageContent(
            study,
            [.. runs.Select(run => archive.Revisions(run.Head.RunId))],
            [.. runs.Select(run => run.Head.CalibrationId).Distinct().Select(archive.Calibrations.Find).OfType<CalibrationRecord>()],
            archive.FindPull);
    }
}
