using RigDaq.Archive.Faults;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Photos;
using RigDaq.Archive.Records;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Calibration;
using RigDaq.Core.Compliance;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Packages;

/// <summary>Reads a package back: the whole is looked at, then the whole is kept, or nothing.</summary>
internal static class StudyPackageReader
{
    /// <inheritdoc cref="StudyPackage.ReadAsync"/>
    public static async Task<PackageImport> ReadAsync(RigArchive archive, string folderPath)
    {
        PackageLook look;
        try
        {
            look = await PackageLook.AtAsync(folderPath).ConfigureAwait(false);
        }
        catch (Exception e) when (e is not (InvalidDataException or IOException or UnauthorizedAccessException or OutOfMemoryException))
        {
            // Whatever a file that was tampered with makes a reader of its format throw, the file is at fault.
            throw new InvalidDataException(ArchiveText.ImportNotReadable(folderPath, e.Message), e);
        }

        Keep(archive, look);
        return new PackageImport(look.Study.Id, archive.Runs.OfStudy(look.Study.Id).Count, look.Remarks);
    }

    private static void Keep(RigArchive archive, PackageLook look)
    {
        DateTimeOffset now = archive.Owner.Time.GetUtcNow();
        (string Name, byte[] Photo)[] photos = [.. Photos(archive, look)];
        var planned = new List<PlannedEntry>();
        foreach (CalibrationRecord calibration in look.Calibrations.Where(calibration => archive.Calibrations.Find(calibration.Id) is null))
            Plan(Entries.Calibration(calibration, now));
        foreach (CheckWeightHistory checkWeight in look.CheckWeights) planned
            .AddRange(checkWeight.Missing(archive.Diary, now).Select(entry => new PlannedEntry(entry, [])));
        foreach (ComplianceRecord compliance in look.Compliances.Where(compliance => archive.Compliances.Find(compliance.Id) is null))
            Plan(ComplianceRepository.EntryOf(compliance, now));
        if (archive.Studies.Find(look.Study.Id)
            is null) Plan(Entries.Note(NoteKinds.Origin, look.Study.Id, new StudyOrigin(look.Study.Id, look.Name, now), now));
        foreach (StudyVersion version in Missing(archive, look.Versions))
            Plan(Entries.Study(version.Study, version.Reason, version.At) with { By = version.By });
        PackageRun[] runs = [.. look.Runs.Where(run => IsNew(archive, run))];
        foreach (PackageRun run in look.Runs) planned.AddRange(MissingRevisions(archive, run, now));

        // What a run names is there before it, as when it was first kept; photos and captures that no run names are nothing.
        foreach ((string name, byte[] photo) in photos) archive.Photos.Put(name, photo);
        foreach (PackageRun run in runs.Where(run => run.Pull is not null)) archive.Owner.Captures
            .Stage(run.WholePull()!, run.TraceChecksum);
        // Where this fails the captures wait for the next start, which knows whether the runs were kept.
        archive.Owner.Commit(_ => planned);
        archive.Owner.Captures.Settle();

        void Plan(JournalEntry entry) => planned.Add(new PlannedEntry(entry, []));
    }

    private static bool IsNew(RigArchive archive, PackageRun run) => archive.Runs.Find(run.RunId) is null;

    /// <exception cref="ArchiveConflictException">The archive has another run of that id.</exception>
    private static IEnumerable<PlannedEntry> MissingRevisions(RigArchive archive, PackageRun run, DateTimeOffset now)
    {
        IReadOnlyList<Run> kept = archive.Runs.Revisions(run.RunId);
        for (int i = 0; i < run.Revisions.Count; i++)
        {
            Run revision = run.Revisions[i];
            if (i < kept.Count)
            {
                // A package may leave out by whom.
                if (RecordText.Of(kept[i] with { By = null }) != RecordText.Of(revision with { By = null }))
                    throw new ArchiveConflictException(i == 0 ? ArchiveText.RunOtherContent(run.RunId)
                        : ArchiveText.RevisionOtherContent(run.RunId, i));
                continue;
            }

            yield return i == 0 && run.Pull is { } pull
                ? new PlannedEntry(Entries.Run(revision, pull, run.Samples, run.TraceChecksum, [], now), run.Pieces)
                : new PlannedEntry(Entries.Revision(revision, [], now), []);
        }
    }

    /// <summary>The versions that the archive does not have: none where it has the same or a later one of the same study.</summary>
    /// <exception cref="ArchiveConflictException">It has another study of that id.</exception>
    private static StudyVersion[] Missing(RigArchive archive, IReadOnlyList<StudyVersion> versions)
    {
        string id = versions[^1].Study.Id;
        if (archive.Studies.Find(id) is not { } latest) return [.. versions];
        string[] kept = [.. archive.Studies.Versions(id).Select(version => RecordText.Of(version.Study))],
            theirs = [.. versions.Select(version => RecordText.Of(version.Study))];
        if (RecordText.Of(latest) == theirs[^1]) return [];
        int common = kept.Zip(theirs).TakeWhile(pair => pair.First == pair.Second).Count();
        if (common == kept.Length && common > 0) return [.. versions.Skip(common)];
        if (common == theirs.Length) return [];
        throw new ArchiveConflictException(ArchiveText.ImportOtherStudy(id));
    }

    private static IEnumerable<(string, byte[])> Photos(RigArchive archive, PackageLook look)
    {
        foreach ((string name, byte[] photo) in look.Photos)
        {
            if (archive.Photos.Find(name) is not { } kept) yield return (name, photo);
            else if (PhotoStore.Sha256Of(kept) != PhotoStore.Sha256Of(photo))
            {
                throw new ArchiveConflictException(ArchiveText.ImportOtherPhoto(name));
            }
        }
    }
}
