using System.Text.Json;
using RigDaq.Archive.Photos;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Text;
using RigDaq.Core.Calibration;
using RigDaq.Core.Compliance;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Signal;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Packages;

/// <summary>A package as it was looked at, whole: every file is the one that was written, every record is whole and fits the
/// others.</summary>
internal sealed class PackageLook
{
    private readonly string _folder;
    private readonly IReadOnlySet<string> _files;

    private PackageLook(string folder)
    {
        _folder = folder;
        _files = DataPackageFile.Verify(folder);
        Study = Single<Study>(StudyPackage.StudyName);
        Versions = VersionsOf(Study);
        Calibrations = Unique(Read<CalibrationRecord>(StudyPackage.CalibrationsName), calibration => calibration.Id,
            StudyPackage.CalibrationsName);
        CheckWeights = Unique(ReadIfThere<CheckWeightHistory>(StudyPackage.CheckWeightsName), history => history.Plan.DeviceId,
            StudyPackage.CheckWeightsName);
        Compliances = Unique(ReadIfThere<ComplianceRecord>(StudyPackage.CompliancesName), compliance => compliance.Id,
            StudyPackage.CompliancesName);
        PackageRules.Check(this);
    }

    /// <summary>The folder's own name.</summary>
    public string Name => Path.GetFileName(Path.TrimEndingDirectorySeparator(Path.GetFullPath(_folder)));

    public Study Study { get; }

    public IReadOnlyList<StudyVersion> Versions { get; }

    public IReadOnlyList<CalibrationRecord> Calibrations { get; }

    public IReadOnlyList<CheckWeightHistory> CheckWeights { get; }

    public IReadOnlyList<ComplianceRecord> Compliances { get; }

    public IReadOnlyList<PackageRun> Runs { get; private set; } = [];

    public IReadOnlyList<(string Name, byte[] Photo)> Photos { get; private set; } = [];

    /// <summary>What a person should know of it.</summary>
    public IReadOnlyList<string> Remarks { get; private set; } = [];

    /// <exception cref="InvalidDataException">The package is damaged, was tampered with, or is not one of ours; the message says
    /// where.</exception>
    public static async Task<PackageLook> AtAsync(string folder)
    {
        var look = new PackageLook(folder);
        look.Runs = await look.RunsAsync().ConfigureAwait(false);
        look.Photos = look.ReadPhotos();
        look.Remarks = PackageFigures.Remarks(look);
        return look;
    }

    // Packages of before this file was written hold the latest version alone.
    private List<StudyVersion> VersionsOf(Study study)
    {
        if (!_files.Contains(StudyPackage.VersionsName)) return [new StudyVersion(study, ArchiveText.ImportedFrom(Name), study.CreatedAt)];
        List<StudyVersion> versions = [.. StudyVersionLine.Read(Read<StudyVersionLine>(StudyPackage.VersionsName))];
        return versions.Count > 0 && RecordText.Of(versions[^1].Study) == RecordText.Of(study)
            && versions.All(version => version.Study.Id == study.Id)
            ? versions
            : throw new InvalidDataException(ArchiveText.ImportVersionsEndElsewhere(In(StudyPackage.VersionsName), StudyPackage.StudyName));
    }

    private async Task<IReadOnlyList<PackageRun>> RunsAsync()
    {
        List<PullRecord> pulls = Unique(Read<PullRecord>(StudyPackage.PullsName), pull => pull.Head.RunId, StudyPackage.PullsName);
        var runs = new Dictionary<string, PackageRun>(StringComparer.Ordinal);
        foreach (IGrouping<string, Run> revisions in Read<Run>(StudyPackage.RunsName)
            .GroupBy(run => run.Head.RunId, StringComparer.Ordinal))
            runs.Add(revisions.Key,
                new PackageRun(revisions.Key, [.. revisions.OrderBy(run => run.Revision)],
                pulls.Find(pull => pull.Head.RunId == revisions.Key)));
        foreach (PackageRun run in runs.Values) PackageRules.Check(run, Study.Id, In(StudyPackage.RunsName));
        if (pulls.Find(pull => !runs.ContainsKey(pull.Head.RunId)) is { } stray)
            throw new InvalidDataException(ArchiveText.ImportOfNoRun(In(StudyPackage.PullsName), stray.Head.RunId));
        await foreach ((string runId, RawSample[] samples) in TracesAsync().ConfigureAwait(false))
        {
            if (!runs.TryGetValue(runId, out PackageRun? run)
                || run.Pull is null) throw new InvalidDataException(ArchiveText.ImportOfNoRun(TracesName, runId));
            if (run.Samples > 0) throw new InvalidDataException(ArchiveText.ImportTwice(TracesName, runId));
            runs[runId] = run with
            { Pieces = TraceContent.Pack(samples), Samples = samples.Length, TraceChecksum = TraceContent.ChecksumOf(samples) };
        }

        await foreach ((string runId, ChannelTrace channel) in ChannelsAsync().ConfigureAwait(false))
        {
            if (!runs.TryGetValue(runId, out PackageRun? run)
                || run.Pull is null) throw new InvalidDataException(ArchiveText.ImportOfNoRun(ChannelsName, runId));
            if (run.Pull.Head.Channels?.Any(head =>
                head.Index == channel.Index) != true) throw new InvalidDataException(ArchiveText.ImportNoChannel(ChannelsName, runId,
                channel.Index));
            // One after another, each once: the checksum goes on from channel to channel.
            if (run.LastChannel >= channel.Index) throw new InvalidDataException(ArchiveText.ImportTwice(ChannelsName, runId));
            runs[runId] = run with
            {
                Pieces = [.. run.Pieces, .. TraceContent.Pack(channel)],
                TraceChecksum = TraceContent.With(run.TraceChecksum, channel),
                LastChannel = channel.Index,
            };
        }

        return [.. runs.Values];
    }

    private string ChannelsName => _files.Contains(ChannelTable.ParquetName) ? ChannelTable.ParquetName : ChannelTable.CsvName;

    private async IAsyncEnumerable<(string RunId, ChannelTrace Channel)> ChannelsAsync()
    {
        // Packages of before, and of rigs that measure nothing else, have none.
        if (!_files.Contains(ChannelsName)) yield break;
        await using FileStream stream = File.OpenRead(Listed(ChannelsName));
        if (ChannelsName == ChannelTable.ParquetName)
        {
            await foreach (var channel in ChannelTable.ReadParquetAsync(stream).ConfigureAwait(false)) yield return channel;
            yield break;
        }

        foreach (var channel in ChannelTable.ReadCsv(stream)) yield return channel;
    }

    private string TracesName => _files.Contains(TraceTable.ParquetName) ? TraceTable.ParquetName : TraceTable.CsvName;

    private async IAsyncEnumerable<(string RunId, RawSample[] Samples)> TracesAsync()
    {
        await using FileStream stream = File.OpenRead(Listed(TracesName));
        if (TracesName == TraceTable.ParquetName)
        {
            await foreach (var trace in TraceTable.ReadParquetAsync(stream).ConfigureAwait(false)) yield return trace;
            yield break;
        }

        foreach (var trace in TraceTable.ReadCsv(stream)) yield return trace;
    }

    private List<(string, byte[])> ReadPhotos()
    {
        var photos = new List<(string, byte[])>();
        foreach (string name in _files.Select(DataPackageFile.PhotoNameOf).OfType<string>())
        {
            string path = Path.Combine(_folder, PhotoStore.FolderName, name);
            byte[] photo = PhotoStore.Read(path);
            if (photo.Length > PhotoStore.BytesMax
                || PhotoStore.ExtensionOf(photo) != Path.GetExtension(name))
            {
                throw new InvalidDataException(ArchiveText.ImportNoPicture(path, PhotoStore.BytesMax >> 20));
            }

            photos.Add((name, photo));
        }

        return photos;
    }

    private T Single<T>(string name)
        where T : class
    {
        List<T> records = Read<T>(name);
        return records.Count == 1 ? records[0] : throw new InvalidDataException(ArchiveText.ImportNotOne(In(name), records.Count));
    }

    private List<T> ReadIfThere<T>(string name)
        where T : class => _files.Contains(name) ? Read<T>(name) : [];

    private List<T> Read<T>(string name)
        where T : class
    {
        string path = Listed(name);
        var records = new List<T>();
        int number = 0;
        foreach (string line in File.ReadLines(path))
        {
            number++;
            if (line.Length == 0) continue;
            try
            {
                T record = RecordText.Read<T>(line);
                if (RecordProof.Fault(record, finite: true) is { } fault) throw new JsonException(fault);
                records.Add(record);
            }
            catch (Exception e) when (e is JsonException or NotSupportedException or InvalidOperationException or ArgumentException
                or OverflowException)
            {
                throw new InvalidDataException(ArchiveText.ImportLine(path, number, e.Message), e);
            }
        }

        return records;
    }

    private List<T> Unique<T>(List<T> records, Func<T, string> key, string name) =>
        records.GroupBy(key, StringComparer.Ordinal).FirstOrDefault(alike => alike.Count() > 1) is { } twice
            ? throw new InvalidDataException(ArchiveText.ImportTwice(In(name), twice.Key)) : records;

    // Only what the package's own list names with its checksum is read.
    private string Listed(string name) => _files.Contains(name) ? In(name)
        : throw new InvalidDataException(ArchiveText.ImportFileMissing(In(name)));

    private string In(string name) => Path.Combine(_folder, name);
}
