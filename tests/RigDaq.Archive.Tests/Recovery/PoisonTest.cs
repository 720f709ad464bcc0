using System.Text;
using Microsoft.Extensions.Logging;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Journaling;
using RigDaq.Archive.Records;
using RigDaq.Archive.Storage;
using RigDaq.Core.Pulls;

namespace RigDaq.Archive.Tests.Recovery;

/// <summary>Entries that cannot be read back: none gets into the journal, and one that an earlier version let pass costs itself
/// only.</summary>
public sealed class PoisonTest : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly ListLogger _logger = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData("Calibration",
        "{\"id\":\"bad\",\"deviceId\":\"00112233445566aa\",\"acceptedAt\":\"2026-11-02T09:30:00+01:00\",\"validUntil\":\"2027-11-02T09:30:00+01:00\",\"greatestReferenceNewtons\":49.03}")]
    [InlineData("Calibration", "null")]
    [InlineData("Study", "{\"id\":\"bad\",\"name\":null,\"createdAt\":\"2026-11-02T09:30:00+01:00\"}")]
    [InlineData("Study", "5")]
    [InlineData("Run", "{}")]
    [InlineData("Revision", "[]")]
    [InlineData("Note", "{\"a\":")]
    public void A_poisoned_entry_in_the_journal_is_left_out_and_said_and_everything_else_opens(string kind, string record)
    {
        using (RigArchive archive = Open()) archive.Studies.Save(Example.Study(), "new");
        var entry = new JournalEntry { Number = 2, At = Example.Start, Kind = Enum.Parse<EntryKind>(kind), Id = "bad", Record = "{}" };
        byte[] poison =
            Encoding.UTF8.GetBytes(Encoding.UTF8.GetString(entry.ToUtf8()).Replace("\"record\":{}", $"\"record\":{record}",
            StringComparison.Ordinal));
        string line = $"{{\"crc32c\":\"{Checksum.Text(Checksum.Of(poison))}\",\"entry\":{Encoding.UTF8.GetString(poison)}}}\n";
        File.AppendAllText(_folder.In("journal.jsonl"), line);
        for (int open = 0; open < 2; open++)
        {
            using RigArchive archive = Open();
            Assert.Equal("alder-fan", Assert.Single(archive.Studies.All()).Id);
            Example.Store(archive, open);
            Assert.Equal(open + 1, archive.Runs.Latest(10).Count);
        }

        Assert.Single(_logger.Entries, said => said.Level == LogLevel.Error);
        RigArchive.Rebuild(_folder.Path, TimeProvider.System, _logger, (pull, _) => Example.Run(pull));
        using RigArchive rebuilt = Open();
        Assert.Equal(2, rebuilt.Runs.Latest(10).Count);
        Assert.Single(rebuilt.Studies.All());
    }

    [Fact]
    public void What_the_database_would_not_take_is_refused_before_it_is_journalled()
    {
        using RigArchive archive = Open();
        byte[] before = File.ReadAllBytes(_folder.In("journal.jsonl"));
        PullRecord pull = Example.Pull(Example.Head(1, study: new string('s', 2000)));
        Assert.Contains("Nothing was changed",
            Assert.Throws<ArchiveException>(() => archive.Runs.Store(Example.Run(pull), pull, [])).Message,
            StringComparison.Ordinal);
        Assert.Contains("Nothing was changed",
            Assert.Throws<ArchiveException>(() => archive.Calibrations
                .Save(Example.Calibration() with { DeviceId = new string('d', 2000) })).Message,
            StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(_folder.In("journal.jsonl")));
        Example.Store(archive, 2);
        Assert.Single(archive.Runs.Latest(10));
    }

    [Fact]
    public void Entries_kept_together_that_were_cut_off_are_none_and_whole_ones_are_all()
    {
        using (RigArchive archive = Open())
        {
            archive.Studies.Save(Example.Study(), "new");
            archive.Owner.Commit(_ => [Planned("one"), Planned("two"), Planned("three")]);
        }

        byte[] whole = File.ReadAllBytes(_folder.In("journal.jsonl"));
        string[] lines = Encoding.UTF8.GetString(whole).Split('\n');
        for (int kept = 1; kept <= 4; kept++)
        {
            // The third line of the batch is cut in the middle where it is not whole.
            string text = string.Concat(lines.Take(kept).Select(line => line + "\n")) + (kept == 3 ? lines[3][..40] : "");
            File.WriteAllText(_folder.In("journal.jsonl"), text);
            File.Delete(_folder.In("runs.db"));
            using RigArchive archive = Open();
            Assert.Equal(kept == 4 ? 4 : 1, archive.Studies.All().Count);
            archive.Studies.Save(Example.Study("after"), "new");
            Assert.Equal(kept == 4 ? 5 : 2, archive.Studies.All().Count);
        }

        PlannedEntry Planned(string id) => new(Entries.Study(Example.Study(id), "new", Example.Start), []);
    }

    [Fact]
    public void Two_lines_joined_by_a_damaged_end_are_both_read()
    {
        using (RigArchive archive = Open()) archive.Studies.Save(Example.Study(), "new");
        using (RigArchive archive = Open()) archive.Studies.Save(Example.Study("second"), "new");
        byte[] journal = File.ReadAllBytes(_folder.In("journal.jsonl"));
        journal[Array.IndexOf(journal, (byte)'\n')] ^= 1;
        File.WriteAllBytes(_folder.In("journal.jsonl"), journal);
        File.Delete(_folder.In("runs.db"));
        using RigArchive read = Open();
        Assert.Equal(["alder-fan", "second"], read.Studies.All().Select(study => study.Id).Order());
    }

    private RigArchive Open() => new(_folder.Path, TimeProvider.System, _logger);
}
