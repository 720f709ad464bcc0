using System.Text;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Recovery;
using RigDaq.Archive.Storage;
using RigDaq.Core.Runs;

namespace RigDaq.Archive.Tests.Recovery;

/// <summary>
/// A folder whose files are damaged in many ways, one at a time: what any of journal, captures and database still holds is there after a
/// rebuild, what was damaged is named before and after it, and looking changes nothing.
/// </summary>
public sealed class NothingLostTest : IDisposable
{
    private static readonly int Trials = Environment.GetEnvironmentVariable("RIGDAQ_LONG") == "1" ? 400 : 4;
    private const long PackedOften = 6_000;
    private readonly TemporaryFolder _folder = new();
    private readonly ListLogger _logger = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData("journal emptied")]
    [InlineData("journal gone")]
    [InlineData("journal cut")]
    [InlineData("journal flipped")]
    [InlineData("journal lines mixed up")]
    [InlineData("packed emptied")]
    [InlineData("packed gone")]
    [InlineData("packed cut")]
    [InlineData("packed flipped")]
    [InlineData("captures gone")]
    [InlineData("captures cut")]
    [InlineData("captures flipped")]
    [InlineData("captures emptied")]
    [InlineData("database gone")]
    [InlineData("database cut")]
    [InlineData("database flipped")]
    [InlineData("database of another kind")]
    public void Nothing_that_any_one_file_still_holds_is_lost_and_everything_damaged_is_named(string way)
    {
        Fill(way.StartsWith("packed", StringComparison.Ordinal) ? PackedOften : JournalPacking.AtBytes);
        using TemporaryFolder original = _folder.CopyOfFiles();
        using RigArchive expected = new(original.Path, TimeProvider.System, _logger);
        var random = new Random(way.Length);
        int unsaid = 0, trials = way.Contains("flipped", StringComparison.Ordinal) || way.Contains("cut", StringComparison.Ordinal) ? Trials
            : 1;
        for (int trial = 0; trial < trials; trial++)
        {
            using TemporaryFolder damaged = _folder.CopyOfFiles();
            Damage(damaged, way, random);
            (string, string)[] before = Contents(damaged);
            FolderReport look = RigArchive.Look(damaged.Path, TimeProvider.System);
            Assert.Equal(before, Contents(damaged));
            RebuildReport report = RigArchive.Rebuild(damaged.Path, TimeProvider.System, _logger,
                (_, _) => throw new InvalidOperationException("no run is computed anew"));
            if (look.Findings.Count == 0) unsaid++;
            else Assert.NotEmpty(report.Findings);
            using (RigArchive rebuilt = new(damaged.Path, TimeProvider.System, _logger))
            {
                Same.Runs(expected, rebuilt);
                Same.Versions(expected, rebuilt, "alder-fan");
                // What waits to be published only the database knows.
                if (!report.Findings
                    .Any(finding => finding
                        .Contains("waited to be published", StringComparison.Ordinal))) Assert.Equal(expected.Outbox.Count,
                    rebuilt.Outbox.Count);
                else Assert.StartsWith("database", way, StringComparison.Ordinal);
                Assert.Empty(rebuilt.Verify());
            }

            Assert.Empty(RigArchive.Look(damaged.Path, TimeProvider.System).Findings);
        }

        // LiteDB keeps room that nothing uses: a flip there says nothing, and costs nothing.
        Assert.True(unsaid == 0 || (way.StartsWith("database", StringComparison.Ordinal) && unsaid < trials),
            $"{unsaid} of {trials} were not noticed");
    }

    [Fact]
    public void A_void_whose_line_is_damaged_stands_after_a_rebuild_with_its_moment_and_reason_and_that_is_said()
    {
        Fill();
        string[] lines = File.ReadAllLines(_folder.In("journal.jsonl"));
        int at = Array.FindIndex(lines, line => line.Contains("\"kind\":\"Revision\"", StringComparison.Ordinal));
        lines[at] = lines[at].Replace("skewed", "sxewed", StringComparison.Ordinal);
        File.WriteAllText(_folder.In("journal.jsonl"), string.Join('\n', lines) + "\n");
        RebuildReport report = RigArchive.Rebuild(_folder.Path, TimeProvider.System, _logger, (pull, _) => Example.Run(pull));
        Assert.Contains(report.Findings, finding => finding.StartsWith($"Line {at + 1} of the journal", StringComparison.Ordinal)
            && finding.Contains("Revision", StringComparison.Ordinal));
        Assert.Contains(report.SetAside, name => name.StartsWith("journal.jsonl.aside-", StringComparison.Ordinal));
        Assert.Contains(report.SetAside, name => name.StartsWith("runs.db.aside-", StringComparison.Ordinal));
        using RigArchive rebuilt = Open();
        Assert.Single(rebuilt.Runs.Latest(10), run => run.Void?.Text == "skewed");
    }

    [Fact]
    public void Samples_that_are_nowhere_any_more_are_named_with_their_run()
    {
        Fill();
        string capture = Directory.GetFiles(_folder.In("captures"))[0], run = Path.GetFileNameWithoutExtension(capture);
        File.Delete(capture);
        File.Delete(_folder.In("runs.db"));
        Assert.Contains(RigArchive.Look(_folder.Path, TimeProvider.System).Findings,
            finding => finding.Contains(run, StringComparison.Ordinal) && finding.Contains("0 of 400", StringComparison.Ordinal));
        RebuildReport report = RigArchive.Rebuild(_folder.Path, TimeProvider.System, _logger, (pull, _) => Example.Run(pull));
        Assert.Contains(report.Findings, finding => finding.Contains(run, StringComparison.Ordinal)
            && finding.Contains("lost samples", StringComparison.Ordinal));
        Assert.Equal(6, report.Runs);
    }

    [Fact]
    public void A_study_that_only_the_database_holds_keeps_every_version_with_its_moment_and_reason()
    {
        Fill();
        using TemporaryFolder original = _folder.CopyOfFiles();
        using RigArchive expected = new(original.Path, TimeProvider.System, _logger);
        File.WriteAllText(_folder.In("journal.jsonl"), "");
        using (RigArchive opened = Open()) Same.Versions(expected, opened, "alder-fan");
        // They were written to the journal again: from it alone they come back.
        File.Delete(_folder.In("runs.db"));
        using RigArchive again = Open();
        Same.Versions(expected, again, "alder-fan");
        Assert.Equal(["new", "a better name"], again.Studies.Versions("alder-fan").Select(version => version.Reason));
    }

    [Fact]
    public void A_line_that_a_failed_write_cut_off_alarms_nobody()
    {
        Fill();
        File.AppendAllText(_folder.In("journal.jsonl"), "{\"crc32c\":\"01234567\",\"entry\":{\"number\":99,\"at\":\"2026");
        using (RigArchive archive = Open())
        {
            Example.Store(archive, 20);
            Assert.Empty(archive.Verify());
        }

        Assert.Empty(RigArchive.Look(_folder.Path, TimeProvider.System).Findings);
    }

    [Fact]
    public void A_rebuild_that_was_cut_off_is_finished_at_the_next_opening()
    {
        Fill();
        using TemporaryFolder original = _folder.CopyOfFiles();
        using RigArchive expected = new(original.Path, TimeProvider.System, _logger);
        // All is in the joined journal that waits for its place; the one that is there lacks most of it.
        File.Copy(_folder.In("journal.jsonl"), _folder.In("journal.jsonl.rebuilt"));
        File.WriteAllText(_folder.In("journal.jsonl"), File.ReadLines(_folder.In("journal.jsonl")).First() + "\n");
        using RigArchive opened = Open();
        Same.Runs(expected, opened);
        Assert.False(File.Exists(_folder.In("journal.jsonl.rebuilt")));
    }

    [Fact]
    public void A_backup_says_what_one_home_lacks_and_keeps_the_good_copy_of_before()
    {
        using var backup = new TemporaryFolder();
        Fill();
        using (RigArchive archive = Open()) Assert.Empty(archive.Backup(backup.Path).Findings);
        string capture = Directory.GetFiles(_folder.In("captures"))[0];
        byte[] whole = File.ReadAllBytes(capture);
        File.WriteAllBytes(capture, whole[..(whole.Length / 2)]);
        byte[] journal = File.ReadAllBytes(_folder.In("journal.jsonl"));
        journal[journal.Length / 2] ^= 4;
        File.WriteAllBytes(_folder.In("journal.jsonl"), journal);
        using (RigArchive archive = Open())
        {
            FolderReport report = archive.Backup(backup.Path);
            Assert.NotEmpty(report.Findings);
            Assert.Equal(2, report.KeptOfBefore.Count);
            Assert.Contains(archive.Verify(),
                finding => finding.Contains(Path.GetFileNameWithoutExtension(capture), StringComparison.Ordinal));
        }

        Assert.Equal(whole, File.ReadAllBytes(backup.In("captures", Path.GetFileName(capture))));
    }

    [Fact]
    public void A_new_data_folder_is_its_owners_and_an_open_one_is_said()
    {
        if (OperatingSystem.IsWindows()) return;
        string inner = _folder.In("new");
        using (new RigArchive(inner, TimeProvider.System, _logger)) { }
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, File.GetUnixFileMode(inner));
        Assert.Empty(RigArchive.Look(inner, TimeProvider.System).Notes);
        File.SetUnixFileMode(inner, File.GetUnixFileMode(inner) | UnixFileMode.OtherRead);
        Assert.Contains("chmod", Assert.Single(RigArchive.Look(inner, TimeProvider.System).Notes), StringComparison.Ordinal);
    }

    private void Fill(long packAtBytes = JournalPacking.AtBytes)
    {
        using RigArchive archive = new(_folder.Path, TimeProvider.System, _logger, new DiskSync(), packAtBytes: packAtBytes);
        archive.Studies.Save(Example.Study(), "new");
        archive.Studies.Save(Example.Study() with { Name = "renamed" }, "a better name");
        archive.Calibrations.Save(Example.Calibration());
        archive.Studies.Choose("alder-fan");
        for (int number = 0; number < 6; number++) Example.Store(archive, number);
        Run run = archive.Runs.Latest(1)[0];
        archive.Runs.Revise(run with { Revision = 1, Void = new RunVoid(VoidKind.MisCut, "skewed", Example.Start) }, []);
        foreach (var (number, _) in archive.Outbox.Pending(5)) archive.Outbox.Complete(number);
    }

    private static void Damage(TemporaryFolder folder, string way, Random random)
    {
        string home = way.Split(' ')[0];
        string[] files = home switch
        {
            "journal" => [folder.In("journal.jsonl")],
            "packed" => [folder.In("journal.packed.jsonl")],
            "database" => [folder.In("runs.db")],
            _ => Directory.GetFiles(folder.In("captures")),
        };
        foreach (string file in files)
        {
            byte[] bytes = File.ReadAllBytes(file);
            switch (way[(home.Length + 1)..])
            {
                case "gone":
                    File.Delete(file);
                    break;
                case "emptied":
                    File.WriteAllBytes(file, []);
                    break;
                case "cut":
                    File.WriteAllBytes(file, bytes[..random.Next(bytes.Length)]);
                    break;
                case "of another kind":
                    File.WriteAllBytes(file, Encoding.UTF8.GetBytes(new string('x', 20_000)));
                    break;
                case "lines mixed up":
                    string[] lines = File.ReadAllLines(file);
                    (lines[3], lines[5]) = (lines[3] + lines[5][..50], lines[5][50..]);
                    File.WriteAllText(file, string.Join('\n', lines) + "\n");
                    break;
                default:
                    // The eight bytes that name a capture carry nothing; a database's first page is LiteDB's own.
                    int from = home == "captures" ? 8 : 0;
                    bytes[random.Next(from, bytes.Length)] ^= (byte)(1 << random.Next(8));
                    File.WriteAllBytes(file, bytes);
                    break;
            }
        }
    }

    private static (string, string)[] Contents(TemporaryFolder folder) =>
        [.. Directory.GetFiles(folder.Path, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal)
            .Select(file => (file, Checksum.Text(Checksum.Of(File.ReadAllBytes(file)))))];

    private RigArchive Open() => new(_folder.Path, TimeProvider.System, _logger);
}
