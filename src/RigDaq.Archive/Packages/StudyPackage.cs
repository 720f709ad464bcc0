using System.Text;
using System.Text.Json;
using RigDaq.Archive.Storage;
using RigDaq.Core.Calibration;
using RigDaq.Core.Signal;
using RigDaq.Core.Specimens;
using RigDaq.Core.Strength;

namespace RigDaq.Archive.Packages;

/// <summary>
/// A study as a folder that other programs read, and that another RigDaq reads back to the same figures: CSV tables and a
/// datapackage.json for the others, the records themselves and all raw samples for RigDaq.
/// </summary>
public static class StudyPackage
{
    private const string StudyName = "study.json";
    private const string RunsName = "runs.jsonl";
    private const string PullsName = "pulls.jsonl";
    private const string CalibrationsName = "calibrations.jsonl";

    /// <summary>Writes a study's package.</summary>
    /// <param name="archive">Where the study is.</param>
    /// <param name="studyId">Which.</param>
    /// <param name="folderPath">A new or empty folder.</param>
    /// <param name="options">How.</param>
    /// <returns>The names of the files written.</returns>
    /// <exception cref="ArchiveException">There is no such study, or the folder holds something already.</exception>
    /// <exception cref="IOException">It could not be written.</exception>
    public static async Task<IReadOnlyList<string>> WriteAsync(RigArchive archive, string studyId, string folderPath, PackageOptions options)
    {
        StudyPackageContent content = StudyPackageContent.Of(archive, studyId);
        if (Directory.Exists(folderPath) && Directory.EnumerateFileSystemEntries(folderPath).Any())
            throw new ArchiveException($"The folder '{folderPath}' is not empty. Choose a new one: nothing is overwritten.");
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
        WriteLines(folderPath, StudyName, [RecordText.Of(content.Study)]);
        WriteLines(folderPath, RunsName, content.Histories.SelectMany(history => history).Select(RecordText.Of));
        WriteLines(folderPath, PullsName, content.Latest.Select(run => content.PullOf(run.Head.RunId)).OfType<PullRecord>().Select(RecordText.WithoutSamples));
        WriteLines(folderPath, CalibrationsName, content.Calibrations.Select(RecordText.Of));
        files.Add((StudyName, null, "The study as RigDaq keeps it"));
        files.Add((RunsName, null, "Every revision of every run as RigDaq keeps it, one a line"));
        files.Add((PullsName, null, "What was known of each pull besides its samples, one a line"));
        files.Add((CalibrationsName, null, "The calibrations as RigDaq keeps them, one a line"));
        DataPackageFile.Write(folderPath, content, options, files);
        File.WriteAllText(Path.Combine(folderPath, PackageReadme.Name), PackageReadme.Text(content, options, traceName));
        return [.. files.Select(file => file.File), DataPackageFile.Name, PackageReadme.Name];
    }

    /// <summary>Reads a package into an archive: calibrations, the study, every run with its trace and revisions.</summary>
    /// <param name="archive">Where to. What it holds already with the same content stays as it is.</param>
    /// <param name="folderPath">The package.</param>
    /// <returns>The study's id.</returns>
    /// <exception cref="InvalidDataException">The package is damaged or not one of ours; nothing was stored.</exception>
    /// <exception cref="ArchiveConflictException">The archive holds a study or run of that id with another content.</exception>
    public static async Task<string> ReadAsync(RigArchive archive, string folderPath)
    {
        DataPackageFile.Verify(folderPath);
        Study study = ReadLines<Study>(folderPath, StudyName).Single();
        List<Run> runs = ReadLines<Run>(folderPath, RunsName);
        Dictionary<string, PullRecord> pulls = ReadLines<PullRecord>(folderPath, PullsName).ToDictionary(pull => pull.Head.RunId);
        List<CalibrationRecord> calibrations = ReadLines<CalibrationRecord>(folderPath, CalibrationsName);
        if (archive.Studies.Find(study.Id) is { } known && RecordText.Of(known) != RecordText.Of(study))
            throw new ArchiveConflictException($"The archive has a study '{study.Id}' already, and it is another one. Import into another data folder.");
        foreach (CalibrationRecord calibration in calibrations.Where(calibration => archive.Calibrations.Find(calibration.Id) is null)) archive.Save(calibration);
        if (archive.Studies.Find(study.Id) is null) archive.Save(study, $"imported from {Path.GetFileName(Path.GetFullPath(folderPath))}");

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

    private static void WriteTable(string folder, string name, PackageTable table)
    {
        using FileStream stream = File.Create(Path.Combine(folder, name));
        table.WriteCsv(stream);
    }

    private static void WriteLines(string folder, string name, IEnumerable<string> lines) =>
        File.WriteAllText(Path.Combine(folder, name), string.Concat(lines.Select(line => line + "\n")), new UTF8Encoding(false));

    private static List<T> ReadLines<T>(string folder, string name)
    {
        string path = Path.Combine(folder, name);
        if (!File.Exists(path)) throw new InvalidDataException($"'{path}' is missing from the package.");
        var records = new List<T>();
        foreach (string line in File.ReadLines(path).Where(line => line.Length > 0))
        {
            try
            {
                records.Add(RecordText.Read<T>(line));
            }
            catch (JsonException e)
            {
                throw new InvalidDataException($"'{path}', line {records.Count + 1}: {e.Message}", e);
            }
        }

        return records;
    }
}
