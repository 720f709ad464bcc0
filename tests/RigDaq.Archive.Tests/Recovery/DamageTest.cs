using LiteDB;
using Microsoft.Extensions.Logging;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Records;
using RigDaq.Core.Runs;

namespace RigDaq.Archive.Tests.Recovery;

public sealed class DamageTest : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly ListLogger _logger = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData(null)]
    [InlineData(0)]
    [InlineData(100)]
    [InlineData(8191)]
    public void A_lost_or_cut_database_is_made_anew_from_journal_and_captures(int? length)
    {
        using TemporaryFolder original = Fill();
        if (length is null) File.Delete(_folder.In("runs.db"));
        else File.WriteAllBytes(_folder.In("runs.db"), new byte[length.Value]);
        using RigArchive expected = new(original.Path, TimeProvider.System, _logger);
        using RigArchive rebuilt = Open();
        Same.Runs(expected, rebuilt);
        Assert.True(_logger.Said(LogLevel.Warning, "made anew from the journal"));
        // Published long ago: not once more.
        Assert.Equal(0, rebuilt.Outbox.Count);
        if (length is not null) Assert.Single(Directory.EnumerateFiles(_folder.Path, "runs.db.aside-*"));
    }

    [Fact]
    public void A_lost_log_of_the_database_is_made_up_for_from_the_journal()
    {
        using (RigArchive archive = Open())
        {
            archive.Studies.Save(Example.Study(), "new");
            Example.Store(archive, 1);
            archive.Owner.WhileStill(() => { });
            Example.Store(archive, 2);
            Example.Store(archive, 3);
            using TemporaryFolder copy = _folder.CopyOfFiles();
            Assert.True(new FileInfo(copy.In("runs-log.db")).Length > 0);
            File.Delete(copy.In("runs-log.db"));
            using RigArchive restored = new(copy.Path, TimeProvider.System, _logger);
            Same.Runs(archive, restored);
            Assert.Equal(6, restored.Outbox.Count);
        }
    }

    [Fact]
    public void Without_database_and_journal_a_used_folder_is_refused_and_left_alone()
    {
        using (Fill())
        {
            File.Delete(_folder.In("runs.db"));
            File.Delete(_folder.In("journal.jsonl"));
            string[] before = Files();
            ArchiveException refused = Assert.Throws<ArchiveException>(Open);
            Assert.Contains("Restore the folder from a backup", refused.Message, StringComparison.Ordinal);
            Assert.Equal(before, Files());
        }
    }

    [Fact]
    public void A_lost_journal_is_written_again_from_the_database()
    {
        using TemporaryFolder original = Fill();
        File.Delete(_folder.In("journal.jsonl"));
        using (Open()) Assert.True(_logger.Said(LogLevel.Error, "shorter than it was"));
        File.Delete(_folder.In("runs.db"));
        using RigArchive expected = new(original.Path, TimeProvider.System, _logger);
        using RigArchive rebuilt = Open();
        Same.Runs(expected, rebuilt);
    }

    [Fact]
    public void A_folder_of_a_newer_version_is_refused_and_left_alone()
    {
        using (Fill())
        {
            File.WriteAllText(_folder.In("archive.json"), "{\"schema\":5,\"createdAt\":\"2030-01-01T00:00:00Z\",\"more\":true}");
            (string, DateTime)[] before = [.. Files().Select(file => (file, File.GetLastWriteTimeUtc(file)))];
            ArchiveException refused = Assert.Throws<ArchiveException>(Open);
            Assert.Contains("newer RigDaq (schema 5; this one knows 4)", refused.Message, StringComparison.Ordinal);
            Assert.Equal(before, Files().Select(file => (file, File.GetLastWriteTimeUtc(file))));
            Assert.Throws<ArchiveException>(() => RigArchive.Rebuild(_folder.Path, TimeProvider.System, _logger,
                (pull, _) => Example.Run(pull)));
            Assert.Equal(before, Files().Select(file => (file, File.GetLastWriteTimeUtc(file))));
        }
    }

    [Fact]
    public void A_database_of_a_newer_version_is_refused()
    {
        using (RigArchive archive = Open())
        {
            archive.Studies.Save(Example.Study(), "new");
            archive.Owner.WhileStill(() => { });
        }

        using (var database = new LiteDatabase(new ConnectionString { Filename = _folder.In("runs.db") }))
        {
            ILiteCollection<BsonDocument> meta = database.GetCollection(Collections.Meta);
            string text = meta.FindAll().Single()["text"].AsString.Replace("\"schema\":4", "\"schema\":7", StringComparison.Ordinal);
            meta.Update(ChecksummedDocument.Text("progress", text));
        }

        Assert.Contains("schema 7", Assert.Throws<ArchiveException>(Open).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(Collections.Runs, "text")]
    [InlineData(Collections.Traces, "bytes")]
    public void A_damaged_record_is_told_and_never_returned(string collection, string field)
    {
        string runId;
        using (RigArchive archive = Open()) runId = Example.Store(archive, 1).Head.RunId;
        using (var database = new LiteDatabase(new ConnectionString { Filename = _folder.In("runs.db") }))
        {
            BsonDocument document = database.GetCollection(collection).FindAll().Single();
            if (field == "text") document[field] = document[field].AsString.Replace("41.7", "47.1", StringComparison.Ordinal);
            else document[field].AsBinary[20] ^= 4;
            database.GetCollection(collection).Update(document);
        }

        using RigArchive damaged = Open();
        Action read = field == "text" ? () => damaged.Runs.Find(runId) : () => damaged.Runs.FindPull(runId);
        Assert.Contains("rigdaq rebuild", Assert.Throws<ArchiveException>(read).Message, StringComparison.Ordinal);
        Assert.Single(damaged.Verify());
        Example.Store(damaged, 2);
    }

    // 5 first; with the others a damaged index lost samples in silence, or led to another run.
    [Theory]
    [InlineData(5)]
    [InlineData(10)]
    [InlineData(17)]
    [InlineData(40)]
    [InlineData(10025)]
    public void Flipped_bytes_in_the_database_are_never_returned_as_data(int seed)
    {
        using TemporaryFolder original = Fill();
        using RigArchive expected = new(original.Path, TimeProvider.System, _logger);
        var random = new Random(seed);
        byte[] whole = File.ReadAllBytes(_folder.In("runs.db"));
        // The first page holds LiteDB's own header; most of the others is room that nobody has used yet, where a flip says nothing.
        int[] used = [.. Enumerable.Range(8192, whole.Length - 8192).Where(at => whole[at] != 0)];
        int noticed = 0;
        for (int trial = 0; trial < 40; trial++)
        {
            using var copy = new TemporaryFolder();
            _folder.CopyTo(copy.Path);
            byte[] flipped = [.. whole];
            flipped[used[random.Next(used.Length)]] ^= (byte)(1 << random.Next(8));
            File.WriteAllBytes(copy.In("runs.db"), flipped);
            try
            {
                using RigArchive damaged = new(copy.Path, TimeProvider.System, _logger);
                foreach (Run run in expected.Runs.Latest(100))
                {
                    if (damaged.Runs.Find(run.Head.RunId) is { } found) Same.Records(run, found);
                    else noticed++;
                    if (damaged.Runs.FindPull(run.Head.RunId) is { } pull) Assert.Equal(expected.Runs
                        .FindPull(run.Head.RunId)!.Trace.Samples,
                        pull.Trace.Samples);
                    else noticed++;
                }
            }
            catch (IOException)
            {
                noticed++;
            }
        }

        Assert.True(noticed > 0);
        // What LiteDB leaves behind of a failed call must not end the program when the memory is tidied up.
        GC.Collect();
        GC.WaitForPendingFinalizers();
    }

    /// <summary>Fills the folder, and gives a copy of it.</summary>
    private TemporaryFolder Fill()
    {
        using (RigArchive archive = Open())
        {
            archive.Studies.Save(Example.Study(), "new");
            archive.Studies.Save(Example.Study() with { Name = "renamed" }, "a better name");
            archive.Calibrations.Save(Example.Calibration());
            for (int number = 0; number < 6; number++) Example.Store(archive, number);
            Run run = archive.Runs.Latest(1)[0];
            archive.Runs.Revise(run with { Revision = 1, Void = new RunVoid(VoidKind.MisCut, "skewed", Example.Start) }, []);
        }

        return _folder.CopyOfFiles();
    }

    private string[] Files() => [.. Directory.EnumerateFiles(_folder.Path, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal)];

    private RigArchive Open() => new(_folder.Path, TimeProvider.System, _logger);
}
