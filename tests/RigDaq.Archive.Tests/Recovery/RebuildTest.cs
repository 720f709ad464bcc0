using RigDaq.Archive.Recovery;
using RigDaq.Core;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;

namespace RigDaq.Archive.Tests.Recovery;

public sealed class RebuildTest : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly ListLogger _logger = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Journal_and_captures_give_the_same_database()
    {
        using TemporaryFolder original = Fill();
        RebuildReport report = RigArchive.Rebuild(_folder.Path, TimeProvider.System, _logger,
            (_, _) => throw new InvalidOperationException());
        Assert.Equal((1, 1, 5, 0, 0), Counts(report));
        using RigArchive expected = new(original.Path, TimeProvider.System, _logger);
        using RigArchive rebuilt = Open();
        Same.Runs(expected, rebuilt);
        Assert.Empty(rebuilt.Verify());
        Assert.Single(Directory.EnumerateFiles(_folder.Path, "runs.db.aside-*"));
    }

    [Fact]
    public void A_capture_that_the_journal_does_not_know_is_computed_with_the_studies_at_hand()
    {
        using (Fill()) { }
        PullHead head = Example.Head(77);
        using (RigArchive archive = Open())
        {
            using ICaptureWriter writer = archive.Captures.Begin(head);
            writer.Append(Example.Samples(50));
            writer.Complete(Example.Ended(head));
        }

        RebuildReport report = RigArchive.Rebuild(_folder.Path, TimeProvider.System, _logger, (pull, archive) =>
        {
            Assert.NotNull(archive.Studies.Find(pull.Head.StudyId));
            return Example.Run(pull);
        });
        Assert.Equal((1, 1, 6, 1, 0), Counts(report));
        using RigArchive rebuilt = Open();
        Assert.Equal(50, rebuilt.Runs.FindPull(head.RunId)!.Trace.Samples.Count);
    }

    [Fact]
    public void A_damaged_line_of_the_journal_costs_that_entry_only_and_is_told()
    {
        using (Fill()) { }
        string[] lines = File.ReadAllLines(_folder.In("journal.jsonl"));
        int run = Array.FindIndex(lines, line => line.Contains("\"kind\":\"Run\"", StringComparison.Ordinal));
        lines[run] = lines[run].Replace("41.7", "51.7", StringComparison.Ordinal);
        File.WriteAllText(_folder.In("journal.jsonl"), string.Join('\n', lines) + "\n");
        RebuildReport report = RigArchive.Rebuild(_folder.Path, TimeProvider.System, _logger, (pull, _) => Example.Run(pull));
        // The database has it.
        Assert.Equal((1, 1, 5, 0, 1), Counts(report));
        Assert.Contains(report.Findings, finding => finding.Contains("it names Run", StringComparison.Ordinal));
        Assert.Contains(report.Findings, finding => finding.Contains("a rebuild takes it from there", StringComparison.Ordinal));
    }

    [Fact]
    public void A_line_of_the_journal_cut_anywhere_spoils_nothing_else()
    {
        using (RigArchive archive = Open()) archive.Studies.Save(Example.Study(), "new");
        byte[] one = File.ReadAllBytes(_folder.In("journal.jsonl"));
        for (int cut = 0; cut < one.Length; cut += 37)
        {
            File.WriteAllBytes(_folder.In("journal.jsonl"), [.. one, .. one.AsSpan(0, cut)]);
            using (RigArchive archive = Open()) archive.Studies.Save(Example.Study("second"), "new");
            File.Delete(_folder.In("runs.db"));
            using (RigArchive archive = Open()) Assert.Equal(["alder-fan", "second"], archive.Studies.All().Select(study => study.Id)
                .Order());
            File.Delete(_folder.In("runs.db"));
            File.WriteAllBytes(_folder.In("journal.jsonl"), one);
            using (Open()) { }
        }
    }

    [Fact]
    public void A_run_whose_samples_differ_from_its_capture_keeps_both()
    {
        PullRecord pull = Example.Pull(Example.Head(1));
        using TemporaryFolder original = new();
        using (RigArchive archive = Open())
        {
            using (ICaptureWriter writer = archive.Captures.Begin(pull.Head)) writer.Append([.. pull.Trace.Samples.Take(100)]);
            archive.Runs.Store(Example.Run(pull), pull, []);
        }

        RigArchive.Rebuild(_folder.Path, TimeProvider.System, _logger, (_, _) => throw new InvalidOperationException());
        using RigArchive rebuilt = Open();
        Same.Pulls(pull, rebuilt.Runs.FindPull(pull.Head.RunId));
        Assert.Equal(2, Directory.EnumerateFiles(_folder.In("captures")).Count());
        Assert.Empty(rebuilt.Captures.FindUnfinished());
    }

    /// <summary>Entries that were kept together lose what ties them when a rebuild writes the journal anew: lines get shorter.</summary>
    [Fact]
    public void A_database_of_before_beside_a_journal_that_was_written_anew_misses_nothing()
    {
        using (RigArchive archive = Open())
        {
            archive.Studies.Save(Example.Study(), "new");
            Run run = Example.Store(archive, 1);
            archive.Studies.Change("alder-fan", study => study with { Name = "renamed" }, "a better name",
                _ => [(run with { Revision = 1, RevisionReason = "renamed" }, Example.Messages(run.Head)[0])]);
        }

        File.Copy(_folder.In("runs.db"), _folder.In("older.db"));
        using (RigArchive archive = Open()) Example.Store(archive, 2);
        File.AppendAllText(_folder.In("journal.jsonl"), "{\"crc32c\":\"00000000\",\"entry\":{}}\n");
        RigArchive.Rebuild(_folder.Path, TimeProvider.System, _logger, (_, _) => throw new InvalidOperationException());
        File.Move(_folder.In("older.db"), _folder.In("runs.db"), overwrite: true);
        using RigArchive opened = Open();
        Assert.Equal(2, opened.Runs.Latest(10).Count);
        Assert.Empty(opened.Verify());
    }

    [Fact]
    public void A_backup_is_a_folder_that_opens_and_can_be_brought_up_to_date()
    {
        using var backup = new TemporaryFolder();
        using RigArchive archive = Open();
        archive.Studies.Save(Example.Study(), "new");
        for (int round = 0; round < 3; round++)
        {
            Example.Store(archive, round);
            archive.Backup(backup.Path);
            using RigArchive copy = new(backup.Path, TimeProvider.System, _logger);
            Same.Runs(archive, copy);
            Assert.Empty(copy.Verify());
            Assert.Equal(round + 1, copy.Runs.Latest(10).Count);
        }

        Assert.Throws<RefusalException>(() => archive.Backup(_folder.Path));
    }

    private static (int, int, int, int, int) Counts(RebuildReport report)
        => (report.Studies, report.Calibrations, report.Runs, report.Recomputed, report.DamagedLines);

    private TemporaryFolder Fill()
    {
        using (RigArchive archive = Open())
        {
            archive.Studies.Save(Example.Study(), "new");
            archive.Calibrations.Save(Example.Calibration());
            for (int number = 0; number < 5; number++) Example.Store(archive, number);
            Run run = archive.Runs.Latest(1)[0];
            archive.Runs.Revise(run with { Revision = 1, RevisionReason = "recomputed" }, []);
            archive.Runs.Revise(run with { Revision = 2, Void = new RunVoid(VoidKind.GripFailure, "at the jaw", Example.Start) }, []);
        }

        return _folder.CopyOfFiles();
    }

    private RigArchive Open() => new(_folder.Path, TimeProvider.System, _logger);
}
