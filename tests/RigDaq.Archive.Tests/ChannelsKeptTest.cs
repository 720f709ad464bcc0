using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Captures;
using RigDaq.Archive.Packages;
using RigDaq.Archive.Recovery;
using RigDaq.Core.Pulls;

namespace RigDaq.Archive.Tests;

/// <summary>Channels besides the force: kept, brought back by every way back, carried by a package; and nothing changes for runs that have
/// none.</summary>
public sealed class ChannelsKeptTest : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_run_is_read_back_with_its_channels_after_the_folder_was_closed()
    {
        using TemporaryFolder copy = Filled();
        using RigArchive expected = Open(copy.Path), archive = Open(_folder.Path);
        Same.Runs(expected, archive);
        PullRecord pull = archive.Runs.FindPull(archive.Runs.Latest(10).First(run => run.Head.Channels is not null).Head.RunId)!;
        Assert.Equal(400, pull.Trace.Channels[0].Samples.Count);
        Assert.Equal(8, pull.Trace.Channels[1].Samples.Count);
        Assert.Empty(archive.Verify());
    }

    [Theory]
    [InlineData("journal and captures")]
    [InlineData("database alone")]
    [InlineData("a backup")]
    public void Every_way_back_brings_the_channels_back(string way)
    {
        using TemporaryFolder original = Filled();
        if (way == "journal and captures") File.Delete(_folder.In("runs.db"));
        if (way == "database alone") Directory.Delete(_folder.In("captures"), recursive: true);
        string folder = _folder.Path;
        if (way == "a backup")
        {
            folder = _folder.In("copy");
            using RigArchive archive = Open(_folder.Path);
            Assert.Empty(archive.Backup(folder).Findings);
        }
        else
        {
            RebuildReport report = RigArchive.Rebuild(folder, TimeProvider.System, NullLogger.Instance,
                (_, _) => throw new InvalidOperationException());
            Assert.Equal(0, report.Recomputed);
        }

        using RigArchive expected = Open(original.Path), back = Open(folder);
        Same.Runs(expected, back);
        Assert.Empty(back.Verify());
    }

    [Fact]
    public void Values_of_a_channel_that_went_missing_from_a_capture_are_noticed_and_brought_back()
    {
        using TemporaryFolder original = Filled();
        string run;
        using (RigArchive archive = Open(_folder.Path)) run = archive.Runs.Latest(10)
            .First(kept => kept.Head.Channels is not null).Head.RunId;
        string capture = _folder.In("captures", run + ".capture");
        byte[] bytes = File.ReadAllBytes(capture);
        // A bit of the last record before the ending: the thermometer's.
        int record = bytes.AsSpan().LastIndexOf(CaptureFormat.Mark);
        bytes[bytes.AsSpan(0, record).LastIndexOf(CaptureFormat.Mark) + CaptureFormat.RecordHeadBytes + 4] ^= 1;
        File.WriteAllBytes(capture, bytes);
        using (RigArchive archive = Open(_folder.Path)) Assert.Contains(archive.Verify(),
            finding => finding.Contains(run, StringComparison.Ordinal));
        RigArchive.Rebuild(_folder.Path, TimeProvider.System, NullLogger.Instance, (_, _) => throw new InvalidOperationException());
        using RigArchive expected = Open(original.Path), back = Open(_folder.Path);
        Same.Runs(expected, back);
    }

    [Fact]
    public void A_pull_that_was_cut_short_keeps_what_its_channels_had_told()
    {
        PullRecord pull = Example.WithChannels(Example.Pull(Example.Head(3)));
        using (RigArchive archive = Open(_folder.Path))
        {
            using ICaptureWriter writer = archive.Captures.Begin(pull.Head);
            writer.Append([.. pull.Trace.Samples.Take(100)]);
            writer.AppendChannel(0, [.. pull.Trace.Channels[0].Samples.Take(60)]);
            writer.AppendChannel(0, [.. pull.Trace.Channels[0].Samples.Skip(60).Take(30)]);
            writer.AppendChannel(5, [.. pull.Trace.Channels[1].Samples.Take(2)]);
        }

        using RigArchive again = Open(_folder.Path);
        PullRecord found = Assert.Single(again.Captures.FindUnfinished());
        Assert.Equal(PullEnding.Interrupted, found.Ending);
        Assert.Equal(pull.Trace.Channels[0].Samples.Take(90), found.Trace.Channels[0].Samples);
        Assert.Equal(pull.Trace.Channels[1].Samples.Take(2), found.Trace.Channels[1].Samples);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task A_package_carries_them_and_what_was_imported_exports_to_the_same_bytes(bool csv)
    {
        using (Filled()) { }
        var options = new PackageOptions { TracesAsCsv = csv };
        using RigArchive archive = Open(_folder.Path), other = Open(_folder.In("other"));
        IReadOnlyList<string> files = await StudyPackage.WriteAsync(archive, "alder-fan", _folder.In("first"), options);
        Assert.Contains(csv ? "channels.csv" : "channels.parquet", files);
        for (int again = 0; again < 2; again++) await StudyPackage.ReadAsync(other, _folder.In("first"));
        Same.Runs(archive, other);
        Assert.Empty(other.Verify());
        await StudyPackage.WriteAsync(other, "alder-fan", _folder.In("second"), options);
        foreach (string file in files) Assert.Equal(File.ReadAllBytes(_folder.In("first", file)),
            File.ReadAllBytes(_folder.In("second", file)));
        string descriptor = await File.ReadAllTextAsync(_folder.In("first", "datapackage.json"), TestContext.Current.CancellationToken);
        foreach (string field in new[] { "extension_mm", "temperature_degC", "force_N" }) Assert.Contains($"\"{field}\"", descriptor,
            StringComparison.Ordinal);
        // The channels reached the captures too, not the database alone.
        RigArchive.Rebuild(await ClosedAsync(other), TimeProvider.System, NullLogger.Instance,
            (_, _) => throw new InvalidOperationException());
        using RigArchive rebuilt = Open(_folder.In("other"));
        Same.Runs(archive, rebuilt);
    }

    [Theory]
    [InlineData("channel 5 is not described", ",5,", ",6,")]
    [InlineData("a value beyond 24 bits", ",5900,", ",59000000,")]
    [InlineData("no number", ",5900,", ",many,")]
    public async Task A_package_whose_channels_are_not_whole_is_refused_and_nothing_is_stored(string what, string right, string wrong)
    {
        using (Filled()) { }
        using RigArchive archive = Open(_folder.Path), other = Open(_folder.In("other"));
        await StudyPackage.WriteAsync(archive, "alder-fan", _folder.In("first"), new PackageOptions { TracesAsCsv = true });
        string table = _folder.In("first", "channels.csv"), descriptor = _folder.In("first", "datapackage.json");
        string before = Hash(table);
        await File.WriteAllTextAsync(table, (await File.ReadAllTextAsync(table, TestContext.Current.CancellationToken))
            .Replace(right, wrong, StringComparison.Ordinal), TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(descriptor, (await File.ReadAllTextAsync(descriptor, TestContext.Current.CancellationToken))
            .Replace(before, Hash(table), StringComparison.Ordinal), TestContext.Current.CancellationToken);
        await Assert.ThrowsAsync<InvalidDataException>(() => StudyPackage.ReadAsync(other, _folder.In("first")));
        Assert.True(other.Runs.Latest(1).Count == 0, what);
    }

    [Fact]
    public async Task A_study_without_channels_has_the_package_that_it_had_before()
    {
        using RigArchive archive = Open(_folder.In("plain"));
        archive.Calibrations.Save(Example.Calibration());
        archive.Studies.Save(Example.Study(), "new");
        PullRecord pull = Example.Pull(Example.Head(1));
        archive.Runs.Store(Example.Run(pull), pull, []);
        IReadOnlyList<string> files = await StudyPackage.WriteAsync(archive, "alder-fan", _folder.In("first"), new PackageOptions());
        Assert.DoesNotContain(files, file => file.StartsWith("channels", StringComparison.Ordinal));
        foreach (string file in files.Where(file => !file.EndsWith(".parquet", StringComparison.Ordinal)))
            Assert.DoesNotContain("channel", await File.ReadAllTextAsync(_folder.In("first", file), TestContext.Current.CancellationToken),
                StringComparison.OrdinalIgnoreCase);
    }

    private static string Hash(string file) =>
        "sha256:" + Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(file)));

    private static Task<string> ClosedAsync(RigArchive archive)
    {
        string path = archive.Owner.Folder.Path;
        archive.Dispose();
        return Task.FromResult(path);
    }

    private static RigArchive Open(string path) => new(path, TimeProvider.System, NullLogger.Instance);

    /// <summary>Fills the folder with runs with and without channels; gives a copy of it.</summary>
    private TemporaryFolder Filled()
    {
        using (RigArchive archive = Open(_folder.Path))
        {
            archive.Calibrations.Save(Example.Calibration());
            archive.Studies.Save(Example.Study(), "new");
            for (int number = 1; number <= 3; number++)
            {
                PullRecord pull = Example.Pull(Example.Head(number));
                if (number != 2) pull = Example.WithChannels(pull);
                archive.Runs.Store(Example.Run(pull), pull, []);
            }
        }

        return _folder.CopyOfFiles();
    }
}
