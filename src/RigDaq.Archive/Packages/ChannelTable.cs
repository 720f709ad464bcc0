using System.Globalization;
using System.Text;
using Parquet;
using Parquet.Schema;
using RigDaq.Archive.Text;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;

namespace RigDaq.Archive.Packages;

/// <summary>
/// The raw values of the channels besides the force, in one table: a row a value, in Parquet a row group a run and channel. It is there
/// only where a run has any; what a channel is stands in the pull's head.
/// </summary>
internal static class ChannelTable
{
    public const string ParquetName = "channels.parquet";
    public const string CsvName = "channels.csv";

    public static PackageField[] Fields =>
    [
        new("run_id", "string", ArchiveText.TracesRunId), new("channel", "integer", ArchiveText.ChannelsChannel),
        new("number", "integer", ArchiveText.ChannelsNumber), new("raw", "integer", ArchiveText.ChannelsRaw),
        new("force_N", "number", ArchiveText.ChannelsForce, "N"), new("extension_mm", "number", ArchiveText.ChannelsExtension, "mm"),
        new("temperature_degC", "number", ArchiveText.ChannelsTemperature, "degC"), new("other", "number", ArchiveText.ChannelsOther),
    ];

    private static readonly string[] Kinds = [ChannelHead.Force, ChannelHead.Extension, ChannelHead.Temperature, ChannelHead.Other];
    private static readonly DataField<string> RunId = new("run_id", nullable: false);
    private static readonly DataField<int> Channel = new("channel");
    private static readonly DataField<long> Number = new("number");
    private static readonly DataField<int> Raw = new("raw");
    private static readonly DataField<double?>[] Values = [.. Fields.Skip(4).Select(field => new DataField<double?>(field.Name))];

    /// <summary>Whether a study's runs have any.</summary>
    public static bool IsNeeded(StudyPackageContent content) => content.Latest.Any(run => run.Head.Channels is { Count: > 0 })
        && Channels(content).Any();

    public static async Task WriteParquetAsync(Stream stream, StudyPackageContent content)
    {
        await using ParquetWriter writer = await ParquetWriter.CreateAsync(
            new ParquetSchema([RunId, Channel, Number, Raw, .. Values]), stream,
                new ParquetOptions { CompressionMethod = CompressionMethod.Zstd }).ConfigureAwait(false);
        foreach ((PullRecord pull, ChannelTrace channel) in Channels(content))
        {
            IReadOnlyList<ChannelSample> samples = channel.Samples;
            ChannelHead? head = HeadOf(pull, channel);
            using ParquetRowGroupWriter group = writer.CreateRowGroup();
            await group.WriteAsync(RunId, Enumerable.Repeat(pull.Head.RunId, samples.Count).ToArray()).ConfigureAwait(false);
            await group.WriteAsync<int>(Channel, Enumerable.Repeat(channel.Index, samples.Count).ToArray()).ConfigureAwait(false);
            await group.WriteAsync<long>(Number, samples.Select(sample => sample.Number).ToArray()).ConfigureAwait(false);
            await group.WriteAsync<int>(Raw, samples.Select(sample => sample.Raw).ToArray()).ConfigureAwait(false);
            for (int i = 0; i < Kinds.Length; i++)
            {
                double?[] values = [.. samples.Select(sample => Value(head, i, sample.Raw))];
                await group.WriteAsync<double>(Values[i], new ReadOnlyMemory<double?>(values)).ConfigureAwait(false);
            }

            group.CompleteValidate();
        }
    }

    public static PackageTable Csv(StudyPackageContent content) => new(
        "channels",
        ArchiveText.ChannelsTitle,
        Fields,
        Channels(content).SelectMany(one => one.Channel.Samples.Select(sample => Row(one.Pull, one.Channel, sample))),
        ["run_id", "channel", "number"]);

    /// <exception cref="InvalidDataException">The file is not such a table.</exception>
    public static async IAsyncEnumerable<(string RunId, ChannelTrace Channel)> ReadParquetAsync(Stream stream)
    {
        await using ParquetReader reader = await ParquetReader.CreateAsync(stream).ConfigureAwait(false);
        for (int i = 0; i < reader.RowGroupCount; i++)
        {
            using ParquetRowGroupReader group = reader.OpenRowGroupReader(i);
            int rows = checked((int)group.RowCount);
            var ids = new string?[rows];
            var channels = new int[rows];
            var numbers = new long[rows];
            var raw = new int[rows];
            await group.ReadAsync(Find("run_id"), ids.AsMemory()).ConfigureAwait(false);
            await group.ReadAsync<int>(Find("channel"), channels.AsMemory()).ConfigureAwait(false);
            await group.ReadAsync<long>(Find("number"), numbers.AsMemory()).ConfigureAwait(false);
            await group.ReadAsync<int>(Find("raw"), raw.AsMemory()).ConfigureAwait(false);
            if (rows == 0) continue;
            if (ids[0] is not { } runId || ids.Any(id => id != runId) || channels.Any(channel => channel != channels[0]))
                throw new InvalidDataException(ArchiveText.ImportChannelRowGroup);
            yield return (runId, Checked(channels[0], [.. numbers.Zip(raw, (number, value) => new ChannelSample(number, value))]));
        }

        DataField Find(string name) => reader.Schema.FindDataField(name);
    }

    /// <exception cref="InvalidDataException">The file is not such a table; the message names the line.</exception>
    public static IEnumerable<(string RunId, ChannelTrace Channel)> ReadCsv(Stream stream)
    {
        using var reader = new StreamReader(stream, Encoding.UTF8, leaveOpen: true);
        if (reader.ReadLine() != string
            .Join(',', Fields.Select(field => field.Name))) throw new InvalidDataException(ArchiveText.ImportChannelsHeader);
        (string RunId, int Channel)? current = null;
        var samples = new List<ChannelSample>();
        for (int line = 2; reader.ReadLine() is { } text; line++)
        {
            string[] cells = text.Split(',');
            if (cells.Length != Fields.Length ||
                !int.TryParse(cells[1], NumberStyles.None, CultureInfo.InvariantCulture, out int channel) ||
                !long.TryParse(cells[2], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long number) ||
                !int.TryParse(cells[3], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int raw))
            {
                throw new InvalidDataException(ArchiveText.ImportNoChannelValue(line));
            }

            if (current is { } before && before != (cells[0], channel))
            {
                yield return (before.RunId, Checked(before.Channel, [.. samples]));
                samples.Clear();
            }

            current = (cells[0], channel);
            samples.Add(new ChannelSample(number, raw));
        }

        if (current is { } last) yield return (last.RunId, Checked(last.Channel, [.. samples]));
    }

    private static ChannelTrace Checked(int channel, ChannelSample[] samples)
    {
        if (channel is < 0 or >= ChannelHead.ChannelsMax || samples.Any(sample => sample.Raw is < ChannelHead.NoValue or > (1 << 23) - 1)
            || samples.Zip(samples.Skip(1)).Any(pair => pair.Second.Number <= pair.First.Number))
            throw new InvalidDataException(ArchiveText.ImportChannelValues(channel));
        return new ChannelTrace(channel, samples);
    }

    private static IReadOnlyList<object?> Row(PullRecord pull, ChannelTrace channel, ChannelSample sample)
    {
        ChannelHead? head = HeadOf(pull, channel);
        return [pull.Head.RunId, channel.Index, sample.Number, sample.Raw,
            .. Enumerable.Range(0, Kinds.Length).Select(i => (object?)Value(head, i, sample.Raw))];
    }

    private static double? Value(ChannelHead? head, int kind, int raw) => head?.Kind == Kinds[kind] ? head.Value(raw) : null;

    private static ChannelHead? HeadOf(PullRecord pull, ChannelTrace channel)
        => pull.Head.Channels?.FirstOrDefault(head => head.Index == channel.Index);

    private static IEnumerable<(PullRecord Pull, ChannelTrace Channel)> Channels(StudyPackageContent content) =>
        content.Latest.Where(run => run.Head.Channels is { Count: > 0 }).Select(run => content.PullOf(run.Head.RunId)).OfType<PullRecord>()
            .Where(pull => pull.Trace.Samples.Count > 0)
            .SelectMany(pull => pull.Trace.Channels.Where(channel => channel.Samples.Count > 0).OrderBy(channel => channel.Index)
                .Select(channel => (pull, channel)));
}
