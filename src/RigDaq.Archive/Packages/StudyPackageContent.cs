using RigDaq.Archive.Faults;
using RigDaq.Archive.Photos;
using RigDaq.Archive.Text;
using RigDaq.Core.Calibration;
using RigDaq.Core.Compliance;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Packages;

/// <summary>What a study's package is made of.</summary>
/// <param name="Study">The study.</param>
/// <param name="Histories">Each run with all its revisions, the first first; runs in the order they were pulled.</param>
/// <param name="Calibrations">Those that the runs name.</param>
/// <param name="PullOf">A run's raw pull, or null.</param>
internal sealed record StudyPackageContent(
    Study Study, IReadOnlyList<IReadOnlyList<Run>> Histories, IReadOnlyList<CalibrationRecord> Calibrations, Func<string,
        PullRecord?> PullOf)
{
    /// <summary>Every version of the study, the first first; the last is the study.</summary>
    public required IReadOnlyList<StudyVersion> Versions { get; init; }

    /// <summary>The machines' compliances that the runs were read with.</summary>
    public required IReadOnlyList<ComplianceRecord> Compliances { get; init; }

    /// <summary>What the check weights of the runs' devices showed.</summary>
    public required IReadOnlyList<CheckWeightHistory> CheckWeights { get; init; }

    /// <summary>The photos that the runs and the study name and that are there, with where they lie.</summary>
    public required IReadOnlyList<(NamedPhoto Photo, string Path)> Photos { get; init; }

    /// <summary>Those that are missing or not the ones that were kept, in words.</summary>
    public required IReadOnlyList<string> PhotoFaults { get; init; }

    /// <summary>The same without by whom anything was done.</summary>
    public StudyPackageContent WithoutNames() => new(Study,
        [.. Histories.Select(history => (IReadOnlyList<Run>)[.. history.Select(run => run with { By = null })])],
        [.. Calibrations.Select(calibration => calibration.WithoutNames())], PullOf)
    {
        Versions = [.. Versions.Select(version => version with { By = null })],
        Compliances = Compliances,
        CheckWeights = CheckWeights,
        Photos = Photos,
        PhotoFaults = PhotoFaults,
    };

    public IReadOnlyList<Run> Latest { get; } = [.. Histories.Select(history => history[^1])];

    /// <exception cref="ArchiveException">The archive has no such study.</exception>
    public static StudyPackageContent Of(RigArchive archive, string studyId)
    {
        Study study = archive.Studies.Find(studyId) ?? throw new ArchiveException(
            ArchiveText.PackageNoStudy(studyId, [.. archive.Studies.All().Select(known => known.Id)]));
        IReadOnlyList<Run> runs = archive.Runs.OfStudy(studyId);
        IReadOnlyList<Run>[] histories = [.. runs.Select(run => archive.Runs.Revisions(run.Head.RunId))];
        // An earlier revision may rest on another calibration than the latest.
        string[] calibrations = [.. runs.Concat(histories.SelectMany(history => history)).Select(run => run.Head.CalibrationId).Distinct()];
        IReadOnlyList<StudyVersion> versions = archive.Studies.Versions(studyId);
        (NamedPhoto Photo, string? Fault)[] photos =
            [.. NamedPhoto.Of(histories.SelectMany(history => history), versions.Select(version => version.Study).Append(study))
            .Select(photo => (photo, photo.Fault(archive.Photos)))];
        return new StudyPackageContent(study, histories, [.. calibrations.Select(archive.Calibrations.Find).OfType<CalibrationRecord>()],
            archive.Runs.FindPull)
        {
            Compliances = [.. histories.SelectMany(history => history).Select(run => run.Reading?.ComplianceId).OfType<string>().Distinct()
                .Select(archive.Compliances.Find).OfType<ComplianceRecord>()],
            CheckWeights = [.. runs.Select(run => run.Head.Device.Id).Distinct()
                .Select(device => CheckWeightHistory.Of(archive.Diary, device)).OfType<CheckWeightHistory>()],
            // The journal can have been lost: then only the latest is known.
            Versions = versions.Count > 0 ? versions : [new StudyVersion(study, "", study.CreatedAt)],
            Photos = [.. photos.Where(photo => photo.Fault is null).Select(photo => (photo.Photo, archive.Photos.Find(photo.Photo.Name)!))],
            PhotoFaults = [.. photos.Select(photo => photo.Fault).OfType<string>()],
        };
    }
}
