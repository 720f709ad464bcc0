using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using RigDaq.App.Callers;
using RigDaq.App.Journal;
using RigDaq.Archive;
using RigDaq.Core.Callers;

namespace RigDaq.Daemon.Tests.Journal;

/// <summary>What happens is written down in its order, without anybody waiting, and strangers cannot fill the disk with it.</summary>
public sealed class HappeningBookTest : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-happened-").FullName;
    private readonly FakeTimeProvider _time = new(new DateTimeOffset(2026, 12, 1, 6, 0, 0, TimeSpan.Zero));
    private readonly RigArchive _archive;

    public HappeningBookTest() => _archive = new RigArchive(_folder, _time, NullLogger<RigArchive>.Instance);

    public void Dispose()
    {
        _archive.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Each_is_kept_with_who_did_it_also_two_at_one_moment()
    {
        await using (var book = new HappeningBook(_archive.Diary, _time, NullLogger<HappeningBook>.Instance))
        {
            new Caller("Ida", By.Page, CallerRole.Administer).Enter();
            book.Did("startSequence");
            book.Did("excludeRun", "run-1");
            book.Note(new Happening { At = default, Kind = HappeningKind.Link, Code = "up" });
        }

        IReadOnlyList<Happening> kept = Kept();
        Assert.Equal(["up", "excludeRun", "startSequence"], kept.Select(each => each.Code));
        Assert.Equal(new By("Ida", By.Page), kept[1].By);
        Assert.Equal("run-1", kept[1].Words);
        Assert.Null(kept[0].By);
    }

    [Fact]
    public async Task What_who_has_no_key_does_is_written_down_once_in_KeylessEvery()
    {
        await using (var book = new HappeningBook(_archive.Diary, _time, NullLogger<HappeningBook>.Instance))
        {
            new Caller("", "192.0.2.7", CallerRole.Look).Enter();
            for (int i = 0; i < 100; i++) book.Did("stop");
            _time.Advance(HappeningBook.KeylessEvery - TimeSpan.FromTicks(1));
            book.Did("stop");
            _time.Advance(TimeSpan.FromTicks(1));
            book.Did("stop");
        }

        Assert.Equal(2, Kept().Count);
    }

    [Fact]
    public async Task WaitingMax_wait_for_a_disk_that_is_slow_and_nobody_waits_for_it()
    {
        var held = new ManualResetEventSlim();
        // Whoever asks who it is has the archive's lock.
        _archive.Who = () =>
        {
            held.Wait(TestContext.Current.CancellationToken);
            return null;
        };
        await using (var book = new HappeningBook(_archive.Diary, _time, NullLogger<HappeningBook>.Instance))
        {
            for (int i = 0; i < 3 * HappeningBook.WaitingMax; i++)
                book.Note(new Happening { At = default, Kind = HappeningKind.Link, Code = "up" });
            held.Set();
        }

        Assert.InRange(Kept().Count, HappeningBook.WaitingMax, HappeningBook.WaitingMax + 1);
    }

    private IReadOnlyList<Happening> Kept() =>
        _archive.Diary.Happenings(DateTimeOffset.UnixEpoch, _time.GetUtcNow().AddDays(1), 10_000);
}
