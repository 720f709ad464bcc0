using System.Text;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Photos;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Pulls;

namespace RigDaq.Archive.Packages;

/// <summary>
/// A study as a folder that other programs read, and that another RigDaq reads back to the same figures: CSV tables and a
/// datapackage.json for the others, the records themselves and all raw samples for RigDaq.
/// </summary>
public static class StudyPackage
{
    internal const string StudyName = "study.json";
    internal const string VersionsName = "study-versions.jsonl";
    internal const string RunsName = "runs.jsonl";
    internal const string PullsName = "pulls.jsonl";
    internal const string CalibrationsName = "calibrations.jsonl";
    internal const string CheckWeightsName = "check-weights.jsonl";
    internal const string CompliancesName = "compliances.jsonl";

    /// <summary>Writes a study's package.</summary>
    /// <param name="archive">Where the study is.</param>
    /// <param name="studyId">Which.</param>
    /// <param name="folderPath">A new or empty folder.</param>
    /// <param name="options">How.</param>
    /// <param name="step">Is told how many traces are read, and of how many; what it throws ends the writing. Null for nobody.</param>
    /// <returns>The names of the files written.</returns>
    /// <exception cref="ArchiveException">There is no such study, or the folder holds something already.</exception>
    /// <exception cref="IOException">It could not be written.</exception>
    public static async Task<IReadOnlyList<string>> WriteAsync(RigArchive archive, string studyId, string folderPath,
        PackageOptions options, Action<int, int>? step = null)
    {
        StudyPackageContent content = StudyPackageContent.Of(archive, studyId);
        if (!options.Names) content = content.WithoutNames();
        if (step is not null) content = content with { PullOf = Counted(content, step) };
        if (Directory.Exists(folderPath) && Directory.EnumerateFileSystemEntries(folderPath).Any())
            throw new ArchiveException(ArchiveText.PackageFolderNotEmpty(folderPath));
        Directory.CreateDirectory(folderPath);
        var files = new List<(string File, PackageTable? Table, string Title)>();
        foreach (PackageTable table in StudyTables.Of(content))
        {
            WriteTable(folderPath, table.Name + ".csv", table);
            files.Add((table.Name + ".csv", table, table.Title));
        }

        PackageTable traces = TraceTable.Csv(content);
        string traceName = options.TracesAsCsv ? TraceTable.CsvName : TraceTable.ParquetName;
        if (options.TracesAsCsv)
        {
            WriteTable(folderPath, traceName, traces);
        }
        else
        {
            await using FileStream stream = File.Create(Path.Combine(folderPath, traceName));
            await TraceTable.WriteParquetAsync(stream, content).ConfigureAwait(false);
        }

        files.Add((traceName, traces, traces.Title));
        if (ChannelTable.IsNeeded(content)) files.Add(await WriteChannelsAsync(folderPath, content, options).ConfigureAwait(false));
        WriteLines(folderPath, StudyName, [RecordText.Of(content.Study)]);
        WriteLines(folderPath, RunsName, content.Histories.SelectMany(history => history).Select(RecordText.Of));
        WriteLines(folderPath, PullsName, content.Latest.Select(run => content.PullOf(run.Head.RunId)).OfType<PullRecord>()
            .Select(RecordText.WithoutSamples));
        WriteLines(folderPath, CalibrationsName, content.Calibrations.Select(RecordText.Of));
        WriteLines(folderPath, VersionsName, StudyVersionLine.Of(content.Versions).Select(RecordText.Of));
        files.Add((StudyName, null, ArchiveText.FileStudy));
        files.Add((VersionsName, null, ArchiveText.FileVersions));
        files.Add((RunsName, null, ArchiveText.FileRuns));
        files.Add((PullsName, null, ArchiveText.FilePulls));
        files.Add((CalibrationsName, null, ArchiveText.FileCalibrations));
        Records(CheckWeightsName, content.CheckWeights, ArchiveText.FileCheckWeights);
        Records(CompliancesName, content.Compliances, ArchiveText.FileCompliances);
        if (options.Photos) files.AddRange(WritePhotos(folderPath, content));
        DataPackageFile.Write(folderPath, content, options, files);
        File.WriteAllText(Path.Combine(folderPath, PackageReadme.Name), PackageReadme.Text(content, options, traceName));
        return [.. files.Select(file => file.File), DataPackageFile.Name, PackageReadme.Name];

        // Not every rig has these.
        void Records<T>(string name, IReadOnlyList<T> records, string title)
        {
            if (records.Count == 0) return;
            WriteLines(folderPath, name, records.Select(RecordText.Of));
            files.Add((name, null, title));
        }
    }

    /// <summary>Reads a package into an archive: calibrations, the study with every version, every run with its trace, revisions and
    /// photos.</summary>
    /// <param name="archive">Where to. What it holds already with the same content stays as it is.</param>
    /// <param name="folderPath">The package.</param>
    /// <returns>The study, and what a person should know of what came.</returns>
    /// <exception cref="InvalidDataException">The package is damaged or not one of ours; nothing was stored.</exception>
    /// <exception cref="ArchiveConflictException">The archive holds a study or run of that id with another content; nothing was
    /// stored.</exception>
    /// <exception cref="IOException">It could not be kept, or it is not known; the message says which.</exception>
    public static Task<PackageImport> ReadAsync(RigArchive archive, string folderPath) => StudyPackageReader.ReadAsync(archive, folderPath);

    /// <summary>What the photos of a study's runs are.</summary>
    /// <param name="archive">Where the study is.</param>
    /// <param name="studyId">Which.</param>
    /// <exception cref="ArchiveException">There is no such study.</exception>
    public static PackagePhotos Photos(RigArchive archive, string studyId)
    {
        StudyPackageContent content = StudyPackageContent.Of(archive, studyId);
        return new PackagePhotos(
            content.Photos.Count,
            content.Photos.Sum(photo => new FileInfo(photo.Path).Length),
            content.Photos.Count(photo => CameraData.IsIn(photo.Path)),
            content.PhotoFaults);
    }

    private static IEnumerable<(string File, PackageTable? Table, string Title)> WritePhotos(string folder, StudyPackageContent content)
    {
        if (content.Photos.Count > 0) Directory.CreateDirectory(Path.Combine(folder, PhotoStore.FolderName));
        foreach ((NamedPhoto photo, string path) in content.Photos)
        {
            string file = $"{PhotoStore.FolderName}/{photo.Name}";
            File.Copy(path, Path.Combine(folder, file));
            yield return (file, null, ArchiveText.FilePhoto(photo.Owner));
        }
    }

    private static async Task<(string File, PackageTable? Table, string Title)> WriteChannelsAsync(string folderPath,
        StudyPackageContent content, PackageOptions options)
    {
        PackageTable table = ChannelTable.Csv(content);
        if (options.TracesAsCsv)
        {
            WriteTable(folderPath, ChannelTable.CsvName, table);
            return (ChannelTable.CsvName, table, table.Title);
        }

        await using FileStream stream = File.Create(Path.Combine(folderPath, ChannelTable.ParquetName));
        await ChannelTable.WriteParquetAsync(stream, content).ConfigureAwait(false);
        return (ChannelTable.ParquetName, table, table.Title);
    }

    // Each trace is read for the table of samples, once more for what is known of its pull, and where it has channels for those.
    private static Func<string, PullRecord?> Counted(StudyPackageContent content, Action<int, int> step)
    {
        int read = 0, all = (2 * content.Latest.Count) + content.Latest.Count(run => run.Head.Channels is { Count: > 0 });
        return runId =>
        {
            step(Math.Min(read++, all), all);
            return content.PullOf(runId);
        };
    }

    private static void WriteTable(string folder, string name, PackageTable table)
    {
        using FileStream stream = File.Create(Path.Combine(folder, name));
        table.WriteCsv(stream);
    }

    private static void WriteLines(string folder, string name, IEnumerable<string> lines) =>
        File.WriteAllText(Path.Combine(folder, name), string.Concat(lines.Select(line => line + "\n")), new UTF8Encoding(false));
}
