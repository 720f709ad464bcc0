using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Storage;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.Archive.Tests.Recovery;

public sealed class PowerCutTest : IDisposable
{
    private const int Runs = 25;

    // Few enough that the log is not moved into the database meanwhile: a copy made file by file is no picture of that moment.
    private const int CopiedRuns = 80;
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void What_was_flushed_to_the_disk_is_enough_for_every_acknowledged_run()
    {
        // The disk as a power cut leaves it in the worst case: of each file what its last flush held, and nothing since.
        using var disk = new TemporaryFolder();
        var sync = new MirroringSync(_folder, disk);
        using (var archive = new RigArchive(_folder.Path, TimeProvider.System, NullLogger.Instance, sync))
        {
            archive.Studies.Save(Example.Study(), "new");
            archive.Calibrations.Save(Example.Calibration());
            var acknowledged = new List<Run>();
            for (int number = 0; number < Runs; number++)
            {
                acknowledged.Add(Example.Store(archive, number));
                if (number % 5 == 4) archive.Owner.WhileStill(() => { });
                using TemporaryFolder afterCut = disk.CopyOfFiles();
                using RigArchive restored = new(afterCut.Path, TimeProvider.System, NullLogger.Instance);
                Same.Runs(archive, restored);
                Assert.Equal(archive.Outbox.Count, restored.Outbox.Count);
                Assert.Empty(restored.Verify());
            }
        }
    }

    [Fact]
    public async Task A_copy_of_the_files_at_any_moment_holds_every_run_acknowledged_before()
    {
        using (var archive = Open(_folder))
        {
            int acknowledged = 0;
            var writer = Task.Run(() =>
            {
                for (int number = 0; number < CopiedRuns; number++)
                {
                    Example.Store(archive, number);
                    Interlocked.Increment(ref acknowledged);
                }
            }, TestContext.Current.CancellationToken);
            while (!writer.IsCompleted)
            {
                int before = Volatile.Read(ref acknowledged);
                using TemporaryFolder copy = _folder.CopyOfFiles();
                using RigArchive restored = Open(copy);
                Assert.InRange(restored.Runs.Latest(int.MaxValue).Count, before, CopiedRuns);
                // A run that was stored while files were copied may have no capture in the copy yet; a power cut leaves none behind like
                // that.
                Assert.DoesNotContain(restored.Verify(), finding => !finding.Contains("capture", StringComparison.Ordinal));
            }

            await writer;
        }
    }

    [Theory]
    [InlineData("runs-log.db")]
    [InlineData("journal.jsonl")]
    public void A_write_that_failed_is_an_error_and_the_next_one_is_kept(string failing)
    {
        var sync = new FailingSync();
        using (var archive = new RigArchive(_folder.Path, TimeProvider.System, NullLogger.Instance, sync))
        {
            Example.Store(archive, 1);
            PullRecord pull = Example.Pull(Example.Head(2));
            Run run = Example.Run(pull);
            sync.Failing = failing;
            Assert.ThrowsAny<IOException>(() => archive.Runs.Store(run, pull, Example.Messages(pull.Head)));
            sync.Failing = null;
            // The same again, as the recorder would: kept once, its messages once.
            archive.Runs.Store(run, pull, Example.Messages(pull.Head));
            Example.Store(archive, 3);
            Assert.Equal(3, archive.Runs.Latest(10).Count);
            Assert.Equal(6, archive.Outbox.Count);
            Assert.Empty(archive.Verify());
        }

        using var again = Open(_folder);
        Assert.Equal(3, again.Runs.Latest(10).Count);
        Assert.Equal(6, again.Outbox.Count);
    }

    /// <summary>
    /// A simulated night found it: an entry of which only the line's end was missing was taken for kept, and the next write then marked it
    /// as cut off.
    /// </summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(40)]
    [InlineData(-40)]
    [InlineData(-2)]
    [InlineData(-1)]
    public void A_write_that_was_cut_off_anywhere_leaves_journal_and_database_of_one_mind(int bytes)
    {
        var sync = new CuttingSync();
        using (var archive = new RigArchive(_folder.Path, TimeProvider.System, NullLogger.Instance, sync))
        {
            Example.Store(archive, 1);
            PullRecord pull = Example.Pull(Example.Head(2));
            Run run = Example.Run(pull);
            sync.TakesOf = written => bytes < 0 ? written + bytes : bytes;
            Assert.ThrowsAny<IOException>(() => archive.Runs.Store(run, pull, Example.Messages(pull.Head)));
            sync.TakesOf = null;
            // Somebody looks, which takes from the journal what the database lacks; then something else is stored.
            int seen = archive.Runs.Latest(10).Count;
            Assert.Equal(bytes == -1 ? 2 : 1, seen);
            Example.Store(archive, 3);
            Assert.Equal(seen + 1, archive.Runs.Latest(10).Count);
            Assert.Empty(archive.Verify());
        }

        using var again = Open(_folder);
        Assert.Empty(again.Verify());
        Example.Store(again, 4);
        Assert.Empty(again.Verify());
    }

    private static RigArchive Open(TemporaryFolder folder) => new(folder.Path, TimeProvider.System, NullLogger.Instance);

    /// <summary>Takes a part of what is written to the journal.</summary>
    private sealed class CuttingSync : DiskSync
    {
        public Func<int, int>? TakesOf { get; set; }

        public override void Write(FileStream file, ReadOnlySpan<byte> bytes)
        {
            bool cuts = TakesOf is not null && file.Name.EndsWith("journal.jsonl", StringComparison.Ordinal);
            base.Write(file, cuts ? bytes[..TakesOf!(bytes.Length)] : bytes);
            if (cuts) throw new IOException("No space left on device");
        }
    }

    private sealed class FailingSync : DiskSync
    {
        public string? Failing { get; set; }

        public override void File(FileStream file)
        {
            Fail(file.Name);
            base.File(file);
        }

        public override void File(string path)
        {
            Fail(path);
            base.File(path);
        }

        private void Fail(string path)
        {
            if (Failing is not null && path.EndsWith(Failing, StringComparison.Ordinal)) throw new IOException("No space left on device");
        }
    }
}
