using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Recovery;
using RigDaq.Archive.Storage;
using RigDaq.Archive.Tests.Recovery;
using RigDaq.Core.Runs;

namespace RigDaq.Archive.Tests.Journaling;

/// <summary>A long journal goes, packed, into a file of its own: nothing is lost by it, whenever program or power end.</summary>
public sealed class JournalPackingTest : IDisposable
{
    /// <summary>Some five entries of these tests.</summary>
    private const long Short = 12_000;

    private readonly TemporaryFolder _folder = new();
    private readonly ListLogger _logger = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void What_was_packed_comes_back_from_journal_and_captures_alone()
    {
        using TemporaryFolder original = Filled(out int packs);
        Assert.True(packs > 2);
        Assert.True(new FileInfo(_folder.In("journal.jsonl")).Length < Short);
        using RigArchive expected = Open(original, long.MaxValue);
        File.Delete(_folder.In("runs.db"));
        using RigArchive anew = Open(_folder, Short);
        Same.Runs(expected, anew);
        Same.Versions(expected, anew, "alder-fan");
        Assert.Equal(expected.Studies.Chosen, anew.Studies.Chosen);
        Assert.Empty(anew.Verify());
    }

    [Fact]
    public void The_lines_are_what_they_were_and_take_a_fraction_of_the_room()
    {
        byte[] lines;
        using (RigArchive archive = Open(_folder, long.MaxValue))
        {
            Fill(archive);
            lines = File.ReadAllBytes(_folder.In("journal.jsonl"));
        }

        using (Open(_folder, Short)) Assert.Equal(0, new FileInfo(_folder.In("journal.jsonl")).Length);
        var packed = new PackedJournal(new ArchiveFolder(_folder.Path), new DiskSync());
        Assert.Equal(lines, packed.Blocks(0).SelectMany(block => block.Unpack()));
        Assert.True(packed.Length < lines.Length / 2, $"{packed.Length} of {lines.Length} bytes");
    }

    [Fact]
    public void A_long_journal_goes_into_blocks_that_part_nothing_that_was_kept_together()
    {
        using (RigArchive archive = Open(_folder, long.MaxValue)) FillBeyondABlock(archive);
        using TemporaryFolder original = _folder.CopyOfFiles();
        using (Open(_folder, JournalPacking.AtBytes / 2)) { }
        var packed = new PackedJournal(new ArchiveFolder(_folder.Path), new DiskSync());
        Assert.True(packed.Blocks(0).Count > 1);
        Assert.All(packed.Blocks(0), block => Assert.InRange(block.Unpack().Length, 1, 2 * JournalPacking.BlockBytes));
        using RigArchive expected = Open(original, long.MaxValue);
        File.Delete(_folder.In("runs.db"));
        using RigArchive anew = Open(_folder, long.MaxValue);
        Same.Versions(expected, anew, "alder-fan");
    }

    /// <summary>
    /// The process ends before, in or after each thing that it has the system do while a run is stored and the journal packed. What is left
    /// is what a kill leaves (all that was handed over), what a power cut leaves at worst (what was flushed), and what it may leave of the
    /// two parts of the journal (of each either).
    /// </summary>
    [Fact]
    public void Cut_off_anywhere_nothing_acknowledged_is_lost_and_it_goes_on()
    {
        using TemporaryFolder before = new();
        using (RigArchive archive = Open(before, long.MaxValue)) FillUpTo(archive, before, Short - 1_000);
        Kept kept = Kept.Of(before);
        int steps = 0, packed = 0, inBoth = 0;
        for (bool ended = false; !ended; steps++)
        {
            foreach (CutAt where in Enum.GetValues<CutAt>())
            {
                using var live = new TemporaryFolder();
                using var disk = new TemporaryFolder();
                before.CopyTo(live.Path);
                before.CopyTo(disk.Path);
                using var sync = new EndingSync(live, disk);
                Run? run = null;
                using (RigArchive archive = new(live.Path, TimeProvider.System, _logger, sync, packAtBytes: Short))
                {
                    sync.End(steps, where);
                    try
                    {
                        run = Example.Store(archive, 100);
                    }
                    catch (IOException)
                    {
                        // Not acknowledged.
                    }

                    ended = !sync.HasEnded;
                    sync.EndNow();
                }

                var seen = new HashSet<string>();
                foreach (int mixed in new[] { 0, 1, 2, 3 })
                {
                    using TemporaryFolder left = mixed == 3 ? sync.AtEnd.CopyOfFiles() : disk.CopyOfFiles();
                    // Of the journal's parts what was flushed or what was handed over.
                    if (mixed == 1) CopyOne(sync.AtEnd, left, "journal.packed.jsonl");
                    if (mixed == 2) CopyOne(sync.AtEnd, left, "journal.jsonl");
                    if (!seen.Add(ContentOf(left))) continue;
                    if (File.Exists(left.In("journal.packed.jsonl")))
                    {
                        packed++;
                        if (new FileInfo(left.In("journal.jsonl")).Length > 0) inBoth++;
                    }

                    IsAllThere(kept, left, run, $"step {steps}, {where}, {mixed}");
                }
            }
        }

        // Journal, its flush, the database's log; a block, its flush, the folder, the cut, its flush, the log again.
        Assert.InRange(steps, 9, 40);
        Assert.True(packed > 20 && inBoth > 5, $"{packed} packed, {inBoth} in both");
    }

    [Fact]
    public void A_disk_that_fails_while_it_is_packed_costs_nothing_and_the_next_start_packs_it()
    {
        var sync = new FailingPackSync();
        using TemporaryFolder original = new();
        using (RigArchive archive = new(_folder.Path, TimeProvider.System, _logger, sync, packAtBytes: Short))
        {
            Fill(archive);
            Assert.True(_logger.Said(LogLevel.Warning, "could not be packed"));
            Assert.Empty(archive.Verify());
            _folder.CopyTo(original.Path);
        }

        using RigArchive expected = Open(original, long.MaxValue);
        using RigArchive again = Open(_folder, Short);
        Assert.Equal(0, new FileInfo(_folder.In("journal.jsonl")).Length);
        Same.Runs(expected, again);
        Assert.Empty(again.Verify());
    }

    [Fact]
    public void A_block_that_is_damaged_is_named_and_a_rebuild_takes_from_the_database_what_was_in_it()
    {
        using TemporaryFolder original = Filled(out _);
        byte[] bytes = File.ReadAllBytes(_folder.In("journal.packed.jsonl"));
        bytes[bytes.Length / 2] ^= 1;
        File.WriteAllBytes(_folder.In("journal.packed.jsonl"), bytes);
        Assert.Contains(RigArchive.Look(_folder.Path, TimeProvider.System).Findings,
            finding => finding.Contains("journal.packed.jsonl", StringComparison.Ordinal));
        RebuildReport report = RigArchive.Rebuild(_folder.Path, TimeProvider.System, _logger,
            (_, _) => throw new InvalidOperationException("no run is computed anew"));
        Assert.Contains(report.SetAside, name => name.StartsWith("journal.packed.jsonl.aside-", StringComparison.Ordinal));
        using RigArchive expected = Open(original, long.MaxValue);
        using RigArchive rebuilt = Open(_folder, long.MaxValue);
        Same.Runs(expected, rebuilt);
        Same.Versions(expected, rebuilt, "alder-fan");
        Assert.Empty(rebuilt.Verify());
    }

    [Fact]
    public void A_journal_that_was_packed_and_lost_is_written_again_from_the_database()
    {
        using TemporaryFolder original = Filled(out _);
        File.Delete(_folder.In("journal.packed.jsonl"));
        File.Delete(_folder.In("journal.jsonl"));
        using (RigArchive opened = Open(_folder, Short)) Assert.Empty(opened.Verify());
        File.Delete(_folder.In("runs.db"));
        using RigArchive expected = Open(original, long.MaxValue);
        using RigArchive anew = Open(_folder, Short);
        Same.Runs(expected, anew);
        Same.Versions(expected, anew, "alder-fan");
    }

    [Fact]
    public void A_backup_holds_both_parts_and_one_of_a_folder_that_was_rebuilt_holds_no_part_of_before()
    {
        using var backup = new TemporaryFolder();
        using (RigArchive archive = Open(_folder, Short))
        {
            Fill(archive);
            Assert.Empty(archive.Backup(backup.Path).Findings);
        }

        IsAllThere(Kept.Of(_folder), backup, null, "backup");
        byte[] bytes = File.ReadAllBytes(_folder.In("journal.packed.jsonl"));
        File.WriteAllBytes(_folder.In("journal.packed.jsonl"), [.. bytes, .. "{}\n"u8]);
        RigArchive.Rebuild(_folder.Path, TimeProvider.System, _logger, (_, _) => throw new InvalidOperationException());
        using (RigArchive archive = Open(_folder, long.MaxValue)) Assert.Empty(archive.Backup(backup.Path).Findings);
        Assert.False(File.Exists(backup.In("journal.packed.jsonl")));
        IsAllThere(Kept.Of(_folder), backup, null, "backup of what was rebuilt");
    }

    [Fact]
    public void A_journal_whose_numbers_do_not_rise_is_left_as_it_is()
    {
        using (RigArchive archive = Open(_folder, long.MaxValue)) Fill(archive);
        byte[] lines = File.ReadAllBytes(_folder.In("journal.jsonl"));
        File.WriteAllBytes(_folder.In("journal.jsonl"), [.. lines, .. lines]);
        using RigArchive archiveAgain = Open(_folder, Short);
        Assert.False(File.Exists(_folder.In("journal.packed.jsonl")));
        Assert.True(_logger.Said(LogLevel.Warning, "was not packed"));
    }

    private void IsAllThere(Kept kept, TemporaryFolder left, Run? acknowledged, string when)
    {
        using (RigArchive archive = Open(left, Short))
        {
            Check(archive);
            Assert.True(archive.Verify() is [], when + ": " + string.Join(" ", archive.Verify()));
            Example.Store(archive, 200);
        }

        // The two parts of the journal alone, packed once more on the way.
        File.Delete(left.In("runs.db"));
        File.Delete(left.In("runs-log.db"));
        using RigArchive anew = Open(left, Short);
        Check(anew);
        Assert.Contains(anew.Runs.Latest(int.MaxValue), run => run.Head.SpecimenId == "A1-200");
        Assert.True(anew.Verify() is [], when + ", anew: " + string.Join(" ", anew.Verify()));

        void Check(RigArchive archive)
        {
            Kept there = Kept.Of(archive);
            Assert.True(kept.Runs.IsSubsetOf(there.Runs), when);
            Assert.True(acknowledged is null || there.Runs.Contains(RecordText.Of(acknowledged)), when + ": the acknowledged run");
            Assert.Equal(kept.Versions, there.Versions);
            Assert.Equal(kept.Chosen, there.Chosen);
        }
    }

    /// <summary>What an archive holds, as text.</summary>
    private sealed record Kept(IReadOnlySet<string> Runs, IReadOnlyList<string> Versions, string? Chosen)
    {
        public static Kept Of(TemporaryFolder folder)
        {
            using TemporaryFolder copy = folder.CopyOfFiles();
            using RigArchive archive = new(copy.Path, TimeProvider.System, NullLogger.Instance);
            return Of(archive);
        }

        public static Kept Of(RigArchive archive) => new(
            archive.Runs.Latest(int.MaxValue).Select(RecordText.Of).ToHashSet(),
            [.. archive.Studies.Versions("alder-fan").Select(version => $"{version.At:O} {version.Reason} {RecordText.Of(version.Study)}")],
            archive.Studies.Chosen);
    }

    private static string ContentOf(TemporaryFolder folder) => string.Join(' ', Directory.GetFiles(folder.Path)
        .Order(StringComparer.Ordinal).Select(file => Path.GetFileName(file) + Checksum.Of(File.ReadAllBytes(file))));

    /// <summary>A folder whose journal was packed some times; a copy of it that has it all.</summary>
    private TemporaryFolder Filled(out int packs)
    {
        using (RigArchive archive = Open(_folder, Short)) Fill(archive);
        packs = new PackedJournal(new ArchiveFolder(_folder.Path), new DiskSync()).Blocks(0).Count;
        return _folder.CopyOfFiles();
    }

    private static void Fill(RigArchive archive)
    {
        archive.Studies.Save(Example.Study(), "new");
        archive.Calibrations.Save(Example.Calibration());
        archive.Studies.Choose("alder-fan");
        for (int number = 0; number < 20; number++)
        {
            Run run = Example.Store(archive, number);
            if (number % 5 == 4) archive.Studies.Change("alder-fan", study => study with { Name = $"renamed {number}" }, "a better name",
                _ => [(run with { Revision = 1, RevisionReason = "renamed" }, Example.Messages(run.Head)[0])]);
        }
    }

    private static void FillUpTo(RigArchive archive, TemporaryFolder folder, long bytes)
    {
        archive.Studies.Save(Example.Study(), "new");
        archive.Studies.Choose("alder-fan");
        for (int number = 0; new FileInfo(folder.In("journal.jsonl")).Length < bytes; number++)
        {
            if (number % 2 == 0) Example.Store(archive, number);
            else archive.Studies.Change("alder-fan", study => study with { Name = $"renamed {number}" }, "a better name");
        }
    }

    private static void FillBeyondABlock(RigArchive archive)
    {
        string name = new('x', JournalPacking.BlockBytes / 3);
        archive.Studies.Save(Example.Study(), "new");
        Run run = Example.Store(archive, 1);
        for (int i = 1; i < 9; i++)
        {
            archive.Studies.Change("alder-fan", study => study with { Name = name + i }, "a longer name",
                _ => [(run with { Revision = i, RevisionReason = "renamed" }, Example.Messages(run.Head)[0])]);
        }
    }

    private static void CopyOne(TemporaryFolder from, TemporaryFolder to, string name)
    {
        if (File.Exists(from.In(name))) File.Copy(from.In(name), to.In(name), overwrite: true);
        else File.Delete(to.In(name));
    }

    private RigArchive Open(TemporaryFolder folder, long packAtBytes) =>
        new(folder.Path, TimeProvider.System, _logger, new DiskSync(), packAtBytes: packAtBytes);

    /// <summary>Where the process ends.</summary>
    private enum CutAt
    {
        Before,
        Within,
        After,
    }

    /// <summary>Ends the process at one of the things that it has the system do: whatever comes after that is not done.</summary>
    private sealed class EndingSync(TemporaryFolder live, TemporaryFolder disk) : MirroringSync(live, disk), IDisposable
    {
        private int _left = int.MaxValue;
        private CutAt _where;

        public bool HasEnded { get; private set; }

        /// <summary>What was handed over when it ended.</summary>
        public TemporaryFolder AtEnd { get; } = new();

        public void End(int afterSteps, CutAt where) => (_left, _where) = (afterSteps, where);

        public override void Write(FileStream file, ReadOnlySpan<byte> bytes)
        {
            // The span cannot go into a closure.
            byte[] all = bytes.ToArray();
            Do(() => base.Write(file, all), () => base.Write(file, all.AsSpan(0, all.Length / 2)));
        }

        public override void Cut(FileStream file, long length) => Do(() => base.Cut(file, length), () => { });

        public override void File(FileStream file) => Do(() => base.File(file), () => { });

        public override void File(string path) => Do(() => base.File(path), () => { });

        public override void Folder(string path) => Do(() => base.Folder(path), () => { });

        /// <summary>It ends now, where it has not.</summary>
        public void EndNow()
        {
            if (HasEnded) return;
            HasEnded = true;
            Live.CopyTo(AtEnd.Path);
        }

        public void Dispose() => AtEnd.Dispose();

        private void Do(Action all, Action part)
        {
            if (HasEnded) throw new IOException("The process has ended.");
            if (_left-- > 0)
            {
                all();
                return;
            }

            if (_where == CutAt.Within) part();
            if (_where == CutAt.After) all();
            EndNow();
            throw new IOException("The process has ended.");
        }
    }

    /// <summary>The packed part cannot be flushed.</summary>
    private sealed class FailingPackSync : DiskSync
    {
        public override void File(FileStream file)
        {
            if (file.Name.EndsWith("journal.packed.jsonl", StringComparison.Ordinal)) throw new IOException("The disk is ill.");
            base.File(file);
        }
    }
}
