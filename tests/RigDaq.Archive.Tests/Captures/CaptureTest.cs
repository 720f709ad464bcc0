using System.Text;
using Microsoft.Extensions.Logging;
using RigDaq.Archive.Captures;
using RigDaq.Archive.Storage;
using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Text;

namespace RigDaq.Archive.Tests.Captures;

public sealed class CaptureTest : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly ListLogger _logger = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Samples_are_with_the_operating_system_as_soon_as_they_are_appended()
    {
        CaptureJournal journal = Journal();
        using ICaptureWriter writer = journal.Begin(Example.Head(1));
        RawSample[] samples = Example.Samples(100);
        for (int at = 0; at < samples.Length; at += 20)
        {
            writer.Append(samples.AsSpan(at, 20));
            // Read as another process would, while the writer is open.
            Assert.Equal(samples.AsSpan(0, at + 20).ToArray(), CaptureContent.Read(ReadShared(OnlyFile())).Samples);
        }
    }

    /// <summary>A simulated night found it: the rest of the block stood in the midst of the capture, and every backup called it
    /// damaged.</summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_block_that_a_full_disk_cut_off_is_no_damage_that_is_said_for_ever(bool canCut)
    {
        PullHead head = Example.Head(1);
        RawSample[] samples = Example.Samples(200);
        var disk = new FullDisk { CanCut = canCut };
        using (var archive = new RigArchive(_folder.Path, TimeProvider.System, _logger, disk))
        {
            using ICaptureWriter writer = archive.Captures.Begin(head);
            writer.Append(samples.AsSpan(0, 100));
            disk.IsFull = true;
            Assert.Throws<IOException>(() => writer.Append(samples.AsSpan(100)));
            disk.IsFull = false;
            Exception? refused = Xunit.Record.Exception(() => writer.Complete(Example.Ended(head)));
            Assert.Equal(canCut, refused is null);
        }

        using var next = new RigArchive(_folder.Path, TimeProvider.System, _logger);
        PullRecord found = Assert.Single(next.Captures.FindUnfinished());
        Assert.Equal(samples[..100], found.Trace.Samples);
        next.Runs.Store(Example.Run(found), found, []);
        Assert.Empty(next.Verify());
    }

    [Fact]
    public void An_unfinished_capture_is_an_interrupted_pull_and_a_stored_one_is_none()
    {
        PullHead cut = Example.Head(1), ended = Example.Head(2), stored = Example.Head(3);
        RawSample[] samples = Example.Samples(200);
        CaptureJournal journal = Journal();
        journal.Begin(cut).Append(samples);
        foreach (PullHead head in new[] { ended, stored })
        {
            using ICaptureWriter writer = journal.Begin(head);
            writer.Append(samples);
            writer.Complete(Example.Ended(head) with { EndedAt = head.StartedAt.AddSeconds(9) });
        }

        CaptureJournal next = Journal(stored.RunId);
        IReadOnlyList<PullRecord> found = next.FindUnfinished();
        Assert.Equal([cut.RunId, ended.RunId], found.Select(pull => pull.Head.RunId));
        Assert.Equal(PullEnding.Interrupted, found[0].Ending);
        Assert.Contains("200 samples", found[0].Reason, StringComparison.Ordinal);
        Assert.Equal(cut.StartedAt + TimeSpan.FromMicroseconds(samples[^1].DeviceMicroseconds - samples[0].DeviceMicroseconds),
            found[0].EndedAt);
        Assert.Equal(samples, found[0].Trace.Samples);
        Assert.Equal(cut.StepsPerMillimetre, found[0].Trace.StepsPerMillimetre);
        Assert.Equal(PullEnding.Broken, found[1].Ending);
        Assert.Equal(ended.StartedAt.AddSeconds(9), found[1].EndedAt);
        Same.Records(ended, found[1].Head);
    }

    [Fact]
    public void What_was_known_of_an_ended_pull_comes_back_from_its_capture_alone()
    {
        PullRecord pull = Example.Pull(Example.Head(1)) with
        { FirstSampleAt = Example.Start.AddMilliseconds(7), Reason = Sentence.Verbatim("as it was") };
        using (ICaptureWriter writer = Journal().Begin(pull.Head))
        {
            writer.Append([.. pull.Trace.Samples]);
            writer.Complete(pull);
        }

        Same.Pulls(pull, Assert.Single(Journal().FindUnfinished()));
    }

    [Fact]
    public void A_capture_of_before_all_was_kept_in_it_is_read()
    {
        PullHead head = Example.Head(1);
        Journal();
        File.WriteAllBytes(OnlyFile(), [
            .. CaptureFormat.Name, .. CaptureFormat.TextRecord(CaptureFormat.HeadKind, head),
            .. CaptureFormat.Record(CaptureFormat.TrailerKind,
                Encoding.UTF8.GetBytes("""{"ending":"Broken","reason":"","endedAt":"2026-11-02T09:31:00+01:00","samples":0}"""))]);
        PullRecord pull = Assert.Single(Journal().FindUnfinished());
        Assert.Equal(PullEnding.Broken, pull.Ending);
        Assert.Equal(new DateTimeOffset(2026, 11, 2, 9, 31, 0, TimeSpan.FromHours(1)), pull.EndedAt);
        Assert.Null(pull.ZeroReturnCounts);
    }

    [Fact]
    public void A_capture_that_is_being_written_is_not_unfinished()
    {
        CaptureJournal journal = Journal();
        using (ICaptureWriter writer = journal.Begin(Example.Head(1)))
        {
            writer.Append(Example.Samples(10));
            Assert.Empty(journal.FindUnfinished());
        }

        Assert.Single(journal.FindUnfinished());
    }

    [Fact]
    public void A_capture_cut_at_any_byte_gives_all_whole_blocks_before()
    {
        RawSample[] samples = Example.Samples(60);
        var ends = new List<long>();
        using (ICaptureWriter writer = Journal().Begin(Example.Head(1)))
        {
            for (int at = 0; at < samples.Length; at += 10)
            {
                ends.Add(new FileInfo(OnlyFile()).Length);
                writer.Append(samples.AsSpan(at, 10));
            }

            ends.Add(new FileInfo(OnlyFile()).Length);
            writer.Complete(Example.Ended(Example.Head(1)));
        }

        byte[] whole = File.ReadAllBytes(OnlyFile());
        for (int length = (int)ends[0]; length < whole.Length; length++)
        {
            CaptureContent capture = CaptureContent.Read(whole.AsSpan(0, length));
            int blocks = ends.Count(end => end <= length) - 1;
            Assert.Equal(blocks * 10, capture.Samples.Count);
            Assert.Equal(samples.AsSpan(0, blocks * 10).ToArray(), capture.Samples);
            Assert.Equal(length - ends[blocks], capture.TornBytes);
            Assert.Equal(0, capture.DamagedBytes);
            Assert.Equal(PullEnding.Interrupted, capture.ToPull()!.Ending);
        }

        Assert.True(CaptureContent.Read(whole).Whole);
    }

    [Fact]
    public void Every_flipped_byte_is_noticed_and_costs_its_own_block_only()
    {
        RawSample[] samples = Example.Samples(60);
        using (ICaptureWriter writer = Journal().Begin(Example.Head(1)))
        {
            for (int at = 0; at < samples.Length; at += 20) writer.Append(samples.AsSpan(at, 20));
            writer.Complete(Example.Ended(Example.Head(1)));
        }

        byte[] whole = File.ReadAllBytes(OnlyFile());
        // The eight bytes of the file's name carry nothing.
        for (int i = CaptureFormat.Name.Length; i < whole.Length; i++)
        {
            byte[] flipped = [.. whole];
            flipped[i] ^= (byte)(1 << (i % 8));
            CaptureContent capture = CaptureContent.Read(flipped);
            Assert.False(capture.Whole && capture.Trailer is not null, $"Byte {i} was flipped unnoticed.");
            Assert.True(capture.Samples.Count is 40 or 60);
            Assert.All(capture.Samples, sample => Assert.Contains(sample, samples));
        }
    }

    [Fact]
    public void A_head_that_never_reached_the_disk_is_no_pull()
    {
        Journal();
        File.WriteAllBytes(OnlyFile() + ".new", [1, 2, 3]);
        Assert.Empty(Journal().FindUnfinished());
        Assert.Empty(Directory.EnumerateFiles(_folder.In("captures")));
    }

    [Fact]
    public void A_capture_without_a_readable_head_is_kept_and_said()
    {
        CaptureJournal journal = Journal();
        journal.Begin(Example.Head(1)).Dispose();
        byte[] bytes = File.ReadAllBytes(OnlyFile());
        bytes[40] ^= 1;
        File.WriteAllBytes(OnlyFile(), bytes);
        Assert.Empty(Journal().FindUnfinished());
        Assert.True(_logger.Said(LogLevel.Error, "no readable head"));
        Assert.True(File.Exists(OnlyFile()));
    }

    [Fact]
    public void A_second_capture_of_a_run_is_refused_and_so_is_an_addition_to_a_complete_one()
    {
        CaptureJournal journal = Journal();
        ICaptureWriter writer = journal.Begin(Example.Head(1));
        PullHead same = Example.Head(1) with { RunId = Path.GetFileNameWithoutExtension(OnlyFile()) };
        Assert.Throws<IOException>(() => journal.Begin(same));
        writer.Complete(Example.Ended(Example.Head(1)));
        writer.Complete(Example.Ended(Example.Head(1)));
        Assert.Throws<InvalidOperationException>(() => writer.Append(Example.Samples(1)));
    }

    [Fact]
    public void Once_its_run_is_stored_a_capture_takes_a_fraction_and_holds_all_that_it_held()
    {
        PullHead head = Example.Head(1);
        RawSample[] samples = Example.Samples(10_000);
        ChannelSample[] values = [.. Enumerable.Range(0, 900).Select(i => new ChannelSample(10 * i, 3 * i))];
        PullRecord pull = Example.Ended(head) with { FirstSampleAt = Example.Start };
        using var archive = new RigArchive(_folder.Path, TimeProvider.System, _logger);
        using (ICaptureWriter writer = archive.Captures.Begin(head))
        {
            for (int at = 0; at < samples.Length; at += 40) writer.Append(samples.AsSpan(at, 40));
            writer.AppendChannel(1, values);
            writer.Complete(pull with { Trace = pull.Trace with { Samples = samples, Channels = [new ChannelTrace(1, values)] } });
        }

        byte[] live = File.ReadAllBytes(OnlyFile());
        CaptureContent before = CaptureContent.Read(live);
        PullRecord found = Assert.Single(archive.Captures.FindUnfinished());
        archive.Runs.Store(Example.Run(found), found, []);

        byte[] packed = File.ReadAllBytes(OnlyFile());
        Assert.InRange(packed.Length, 1, live.Length / 2);
        CaptureContent after = CaptureContent.Read(packed);
        Assert.True(after.Whole && after.IsPacked && !before.IsPacked);
        Assert.Equal(before.Samples, after.Samples);
        Assert.Equal(before.Channels[1], after.Channels[1]);
        Same.Records(before.Head, after.Head);
        Same.Records(before.Trailer, after.Trailer);
        Assert.Empty(archive.Verify());

        // Damage costs the samples of one record, is noticed, and never makes others of them.
        var random = new Random(7);
        for (int i = 0; i < 200; i++)
        {
            byte[] flipped = [.. packed];
            flipped[random.Next(CaptureFormat.Name.Length, packed.Length)] ^= (byte)(1 << random.Next(8));
            CaptureContent damaged = CaptureContent.Read(flipped);
            Assert.False(damaged.Whole && damaged.Trailer is not null);
            Assert.InRange(damaged.Samples.Count, samples.Length - PackedCapture.SamplesARecord, samples.Length);
        }
    }

    [Fact]
    public void A_text_that_unpacks_to_more_than_LongestBytes_or_is_none_is_refused()
    {
        byte[] bomb = new byte[1 << 16];
        Assert.True(System.IO.Compression.BrotliEncoder.TryCompress(new byte[PackedText.LongestBytes + 1], bomb, out int length, 5, 18));
        Assert.Throws<InvalidDataException>(() => PackedText.Read(bomb.AsSpan(0, length)));
        // What packed columns begin with is no Brotli stream (RFC 7932, 9.1).
        Assert.Throws<InvalidDataException>(() => PackedText.Read([0x11, 1, 0, 0, 0, 0, 0, 0]));
        Assert.Equal("\"a\"", PackedText.Read(PackedText.Of("a")));
    }

    [Fact]
    public void A_capture_that_is_not_what_was_stored_or_cannot_be_packed_stays_as_it_was_written()
    {
        PullHead head = Example.Head(1);
        CaptureJournal journal = Journal(head.RunId);
        using (ICaptureWriter writer = journal.Begin(head))
        {
            writer.Append(Example.Samples(300));
            writer.Complete(Example.Ended(head));
        }

        byte[] live = File.ReadAllBytes(OnlyFile());
        uint checksum = CaptureContent.Read(live).Content.Checksum32();
        journal.Pack(head.RunId, checksum + 1);
        Assert.Equal(live, File.ReadAllBytes(OnlyFile()));

        var full = new FullDisk { CanCut = true, IsFull = true };
        new CaptureJournal(new ArchiveFolder(_folder.Path), full, _logger, _ => true).Pack(head.RunId, checksum);
        Assert.Equal(live, File.ReadAllBytes(OnlyFile()));
        Assert.True(_logger.Said(LogLevel.Warning, "could not be packed"));

        // What the attempt left is gone at the next start, and the next attempt is as good as the first.
        Journal(head.RunId).Pack(head.RunId, checksum);
        Assert.True(CaptureContent.Read(OnlyFile()).IsPacked);
        Assert.Single(Directory.EnumerateFiles(_folder.In("captures")));
    }

    private static byte[] ReadShared(string path)
    {
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        byte[] bytes = new byte[file.Length];
        file.ReadExactly(bytes);
        return bytes;
    }

    private CaptureJournal Journal(params string[] stored) =>
        new(new ArchiveFolder(_folder.Path), new DiskSync(), _logger, stored.Contains);

    private string OnlyFile() =>
        Directory.EnumerateFiles(_folder.In("captures"), "*.capture").SingleOrDefault() ??
        _folder.In("captures", Guid.CreateVersion7(Example.Start) + ".capture");

    /// <summary>Takes half of what is written, and no more, while it is full.</summary>
    private sealed class FullDisk : DiskSync
    {
        public bool IsFull { get; set; }

        public bool CanCut { get; init; }

        public override void Write(FileStream file, ReadOnlySpan<byte> bytes)
        {
            base.Write(file, IsFull ? bytes[..(bytes.Length / 2)] : bytes);
            if (IsFull) throw new IOException("No space left on device");
        }

        public override void Cut(FileStream file, long length)
        {
            if (!CanCut) throw new IOException("The disk is ill.");
            base.Cut(file, length);
        }
    }
}
