using System.Globalization;
using System.Text;
using Parquet;
using Parquet.Schema;
using RigDaq.Archive.Text;
using RigDaq.Core.Calibration;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;

namespace RigDaq.Archive.Packages;

/// <summary>
/// All raw samples of a study in one table: a row a sample, in Parquet a row group a run. Counts, stamps and steps are what
/// the device sent; the force is there for convenience.
/// </summary>
internal static class TraceTable
{
    public const string ParquetName = "traces.parquet";
    public const string CsvName = "traces.csv";

    public static PackageField[] Fields =>
    [
        new("run_id", "string", ArchiveText.TracesRunId), new("number", "integer", ArchiveText.TracesNumber),
        new("device_us", "integer", ArchiveText.TracesDevice, "µs"), new("counts", "integer", ArchiveText.TracesCounts),
        new("crosshead_steps", "integer", ArchiveText.TracesCrossheadSteps),
        new("force_N", "number", ArchiveText.TracesForce, "N"),
    ];

    private static readonly DataField<string> RunId = new("run_id", nullable: false);
    private static readonly DataField<long> Number = new("number");
    private static readonly DataField<long> Device = new("device_us");
    private static readonly DataField<int> Counts = new("counts");
    private static readonly DataField<int> Steps = new("crosshead_steps");
    private static readonly DataField<double?> Force = new("force_N");

    public static async Task WriteParquetAsync(Stream stream, StudyPackageContent content)
    {
        await using ParquetWriter writer = await ParquetWriter.CreateAsync(
            new ParquetSchema(RunId, Number, Device, Counts, Steps, Force),
            stream,
            new ParquetOptions { CompressionMethod = CompressionMethod.Zstd }).ConfigureAwait(false);
        foreach (PullRecord pull in Pulls(content))
        {
            IReadOnlyList<RawSample> samples = pull.Trace.Samples;
            double?[] forces = [.. samples.Select(sample => Newtons(content, pull, sample))];
            using ParquetRowGroupWriter group = writer.CreateRowGroup();
            await group.WriteAsync(RunId, Enumerable.Repeat(pull.Head.RunId, samples.Count).ToArray()).ConfigureAwait(false);
            await group.WriteAsync<long>(Number, samples.Select(sample => sample.Number).ToArray()).ConfigureAwait(false);
            await group.WriteAsync<long>(Device, samples.Select(sample => sample.DeviceMicroseconds).ToArray()).ConfigureAwait(false);
            await group.WriteAsync<int>(Counts, samples.Select(sample => sample.Counts).ToArray()).ConfigureAwait(false);
            await group.WriteAsync<int>(Steps, samples.Select(sample => sample.CrossheadSteps).ToArray()).ConfigureAwait(false);
            await group.WriteAsync<double>(Force, new ReadOnlyMemory<double?>(forces)).ConfigureAwait(false);
            group.CompleteValidate();
        }
    }

    public static PackageTable Csv(StudyPackageContent content) => new(
        "traces",
        ArchiveText.TracesTitle,
        Fields,
        Pulls(content).SelectMany(pull => pull.Trace.Samples.Select(sample => (IReadOnlyList<object?>)
        [
            pull.Head.RunId, sample.Number, sample.DeviceMicroseconds, sample.Counts, sample.CrossheadSteps, Newtons(content, pull, sample),
        ])),
        ["run_id", "number"]);

    /// <exception cref="InvalidDataException">The file is not such a table.</exception>
    public static async IAsyncEnumerable<(string RunId, RawSample[] Samples)> ReadParquetAsync(Stream stream)
    {
        await using ParquetReader reader = await ParquetReader.CreateAsync(stream).ConfigureAwait(false);
        for (int i = 0; i < reader.RowGroupCount; i++)
        {
            using ParquetRowGroupReader group = reader.OpenRowGroupReader(i);
            int rows = checked((int)group.RowCount);
            var ids = new string?[rows];
            var numbers = new long[rows];
            var stamps = new long[rows];
            var counts = new int[rows];
            var steps = new int[rows];
            await group.ReadAsync(Find("run_id"), ids.AsMemory()).ConfigureAwait(false);
            await group.ReadAsync<long>(Find("number"), numbers.AsMemory()).ConfigureAwait(false);
            await group.ReadAsync<long>(Find("device_us"), stamps.AsMemory()).ConfigureAwait(false);
            await group.ReadAsync<int>(Find("counts"), counts.AsMemory()).ConfigureAwait(false);
            await group.ReadAsync<int>(Find("crosshead_steps"), steps.AsMemory()).ConfigureAwait(false);
            if (rows == 0) continue;
            if (ids[0] is not { } runId || ids.Any(id => id != runId)) throw new InvalidDataException(ArchiveText.ImportRowGroup);
            yield return (runId, [.. ids.Select((_, row) => new RawSample(numbers[row], stamps[row], counts[row], steps[row]))]);
        }

        DataField Find(string name) => reader.Schema.FindDataField(name);
    }

    /// <exception cref="InvalidDataException">The file is not such a table; the message names the line.</exception>
    public static IEnumerable<(string RunId, RawSample[] Samples)> ReadCsv(Stream stream)
    {
        using var reader = new StreamReader(stream, Encoding.UTF8, leaveOpen: true);
        if (reader.ReadLine() != string
            .Join(',', Fields.Select(field => field.Name))) throw new InvalidDataException(ArchiveText.ImportTracesHeader);
        string? current = null;
        var samples = new List<RawSample>();
        for (int line = 2; reader.ReadLine() is { } text; line++)
        {
            string[] cells = text.Split(',');
            if (cells.Length != Fields.Length ||
                !long.TryParse(cells[1], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long number) ||
                !long.TryParse(cells[2], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long stamp) ||
                !int.TryParse(cells[3], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int counts) ||
                !int.TryParse(cells[4], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int steps))
            {
                throw new InvalidDataException(ArchiveText.ImportNoSample(line));
            }

            if (current is not null && cells[0] != current)
            {
                yield return (current, [.. samples]);
                samples.Clear();
            }

            current = cells[0];
            samples.Add(new RawSample(number, stamp, counts, steps));
        }

        if (current is not null) yield return (current, [.. samples]);
    }

    // A trace without samples has no rows: its run stands in runs.jsonl all the same.
    private static IEnumerable<PullRecord> Pulls(StudyPackageContent content) =>
        content.Latest.Select(run => content.PullOf(run.Head.RunId)).OfType<PullRecord>().Where(pull => pull.Trace.Samples.Count > 0);

    private static double? Newtons(StudyPackageContent content, PullRecord pull, RawSample sample)
    {
        CalibrationRecord? calibration = content.Calibrations.FirstOrDefault(known => known.Id == pull.Head.CalibrationId);
        return calibration?.Curve.Newtons(sample.Counts - pull.Head.ZeroCounts);
    }
}
