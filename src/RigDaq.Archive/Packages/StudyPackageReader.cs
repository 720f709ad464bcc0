using System.Text.Json;
using RigDaq.Archive.Photos;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Calibration;
using RigDaq.Core.Signal;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;

namespace RigDaq.Archive.Packages;

/// <summary>Reads a package back. Everything is looked at before anything is stored.</summary>
internal static class StudyPackageReader
{
    /// <inheritdoc cref="StudyPackage.ReadAsync"/>
    public static async Task<string> ReadAsync(RigArchive archive, string folderPath)
    {
        DataPackageFile.Verify(folderPath);
        Study study = ReadLines<Study>(folderPath, StudyPackage.StudyName).Single();
        List<StudyVersion> versions = Versions(folderPath, study);
        List<Run> runs = ReadLines<Run>(folderPath, StudyPackage.RunsName);
        Dictionary<string, PullRecord> pulls = ReadLines<PullRecord>(folderPath, StudyPackage.PullsName).ToDictionary(pull => pull.Head.RunId);
        List<CalibrationRecord> calibrations = ReadLines<CalibrationRecord>(folderPath, StudyPackage.CalibrationsName);
        List<CheckWeightHistory> checkWeights = ReadLinesIfThere<CheckWeightHistory>(folderPath, StudyPackage.CheckWeightsName);
        List<ComplianceRecord> compliances = ReadLinesIfThere<ComplianceRecord>(folderPath, StudyPackage.CompliancesName);
        StudyVersion[] missing = Missing(archive, versions);
        IReadOnlyList<(string Name, byte[] Photo)> photos = Photos(archive, folderPath);
        foreach (CalibrationRecord calibration in calibrations.Where(calibration => archive.Calibrations.Find(calibration.Id) is null)) archive.Save(calibration);
        foreach (CheckWeightHistory checkWeight in checkWeights) checkWeight.AddTo(archive);
        foreach (ComplianceRecord compliance in compliances.Where(compliance => archive.FindCompliance(compliance.Id) is null)) archive.Save(compliance);
        // Before the study: one that was cut off in between is known as another's all the same.
        if (archive.Studies.Find(study.Id) is null) archive.NoteOrigin(study.Id, Path.GetFileName(Path.TrimEndingDirectorySeparator(Path.GetFullPath(folderPath))));
        foreach (StudyVersion version in missing) archive.SaveVersion(version);
        // Before the runs that name them, as when they were first kept.
        foreach ((string name, byte[] photo) in photos) archive.Photos.Put(name, photo);

        ILookup<string, Run> revisions = runs.ToLookup(run => run.Head.RunId);
        var stored = new HashSet<string>();
        await foreach (var (runId, samples) in TracesAsync(folderPath).ConfigureAwait(false))
        {
            if (pulls.TryGetValue(runId, out PullRecord? pull)) Store(runId, pull with { Trace = pull.Trace with { Samples = samples } });
        }

        foreach (PullRecord pull in pulls.Values.Where(pull => !stored.Contains(pull.Head.RunId))) Store(pull.Head.RunId, pull);
        return study.Id;

        void Store(string runId, PullRecord pull)
        {
            int kept = archive.Revisions(runId).Count;
            foreach (Run run in revisions[runId].OrderBy(run => run.Revision))
            {
                if (run.Revision == 0) archive.Store(run, pull, []);
                else if (run.Revision >= kept) archive.Revise(run, []);
            }

            stored.Add(runId);
        }
    }

    // Packages of before this file was written hold the latest version alone.
    private static List<StudyVersion> Versions(string folder, Study study)
    {
        if (!File.Exists(Path.Combine(folder, StudyPackage.VersionsName)))
            return [new StudyVersion(study, ArchiveText.ImportedFrom(Path.GetFileName(Path.GetFullPath(folder))), study.CreatedAt)];
        List<StudyVersion> versions = [.. StudyVersionLine.Read(ReadLines<StudyVersionLine>(folder, StudyPackage.VersionsName))];
        return versions.Count > 0 && RecordText.Of(versions[^1].Study) == RecordText.Of(study) && versions.All(version => version.Study.Id == study.Id)
            ? versions
            : throw new InvalidDataException(ArchiveText.ImportVersionsEndElsewhere(Path.Combine(folder, StudyPackage.VersionsName), StudyPackage.StudyName));
    }

    /// <summary>The versions that the archive does not have: none where it has the same or a later one of the same study.</summary>
    /// <exception cref="ArchiveConflictException">It has another study of that id.</exception>
    private static StudyVersion[] Missing(RigArchive archive, List<StudyVersion> versions)
    {
        string id = versions[^1].Study.Id;
        if (archive.Studies.Find(id) is not { } latest) return [.. versions];
        string[] kept = [.. archive.Versions(id).Select(version => RecordText.Of(version.Study))], theirs = [.. versions.Select(version => RecordText.Of(version.Study))];
        if (RecordText.Of(latest) == theirs[^1]) return [];
        int common = kept.Zip(theirs).TakeWhile(pair => pair.First == pair.Second).Count();
        if (common == kept.Length && common > 0) return [.. versions.Skip(common)];
        if (common == theirs.Length) return [];
        throw new ArchiveConflictException(ArchiveText.ImportOtherStudy(id));
    }

    private static List<(string, byte[])> Photos(RigArchive archive, string folder)
    {
        var photos = new List<(string, byte[])>();
        foreach (string name in DataPackageFile.Photos(folder))
        {
            string path = Path.Combine(folder, PhotoShelf.FolderName, name);
            byte[] photo = new FileInfo(path).Length > PhotoShelf.BytesMax ? [] : File.ReadAllBytes(path);
            if (PhotoShelf.ExtensionOf(photo) != Path.GetExtension(name)) throw new InvalidDataException(ArchiveText.ImportNoPicture(path, PhotoShelf.BytesMax >> 20));
            if (archive.Photos.Find(name) is not { } kept) photos.Add((name, photo));
            else if (PhotoShelf.Sha256Of(kept) != PhotoShelf.Sha256Of(photo)) throw new ArchiveConflictException(ArchiveText.ImportOtherPhoto(name));
        }

        return photos;
    }

    private static async IAsyncEnumerable<(string RunId, RawSample[] Samples)> TracesAsync(string folder)
    {
        string parquet = Path.Combine(folder, TraceTable.ParquetName);
        if (File.Exists(parquet))
        {
            await using FileStream stream = File.OpenRead(parquet);
            await foreach (var trace in TraceTable.ReadParquetAsync(stream).ConfigureAwait(false)) yield return trace;
            yield break;
        }

        await using FileStream csv = File.OpenRead(Path.Combine(folder, TraceTable.CsvName));
        foreach (var trace in TraceTable.ReadCsv(csv)) yield return trace;
    }

    private static List<T> ReadLinesIfThere<T>(string folder, string name) => File.Exists(Path.Combine(folder, name)) ? ReadLines<T>(folder, name) : [];

    private static List<T> ReadLines<T>(string folder, string name)
    {
        string path = Path.Combine(folder, name);
        if (!File.Exists(path)) throw new InvalidDataException(ArchiveText.ImportFileMissing(path));
        var records = new List<T>();
        foreach (string line in File.ReadLines(path).Where(line => line.Length > 0))
        {
            try
            {
                records.Add(RecordText.Read<T>(line));
            }
            catch (JsonException e)
            {
                throw new InvalidDataException(ArchiveText.ImportLine(path, records.Count + 1, e.Message), e);
            }
        }

        return records;
    }
}
