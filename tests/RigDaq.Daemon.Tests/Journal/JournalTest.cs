using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using RigDaq.App.Journal;
using RigDaq.Archive;
using RigDaq.Core.Callers;
using RigDaq.Daemon.Tests.Trace;

namespace RigDaq.Daemon.Tests.Journal;

/// <summary>What is told of a night: the latest first, within its bounds, in the terminal as on the page.</summary>
[Collection(nameof(PrintedOutput))]
public sealed class JournalTest : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rigdaq-journal-").FullName;
    private readonly FakeTimeProvider _time = new(DateTimeOffset.UtcNow);

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void It_tells_what_was_in_the_time_that_is_asked_for()
    {
        using RigArchive archive = Open();
        DateTimeOffset now = _time.GetUtcNow();
        Add(archive, now.AddHours(-30), HappeningKind.Alarm, "link lost");
        Add(archive, now.AddHours(-20), HappeningKind.Alarm, "sequence held");
        Add(archive, now.AddHours(-10), HappeningKind.Alarm, "link lost");
        archive.Diary.Add(new Happening { At = now.AddHours(-1), Kind = HappeningKind.Disk, Code = "disk", FreeMegabytes = 5_000 });
        JournalTold told = new JournalReader(archive, _time).Read(null, null);
        Assert.Equal(["link lost", "sequence held"], told.Items.Select(item => item.Code));
        Assert.Equal((1, 2, 1), (told.Holds, told.Alarms, told.LinksLost));
        Assert.Equal(5_000, Assert.Single(told.Disk).Value);
        Assert.Single(new JournalReader(archive, _time).Read(now.AddHours(-31), now.AddHours(-29)).Items);
    }

    [Fact]
    public void EachMax_are_told_and_no_longer_time_than_SpanMax()
    {
        using RigArchive archive = Open();
        DateTimeOffset now = _time.GetUtcNow();
        for (int i = 0; i <= JournalReader.EachMax; i++) Add(archive, now.AddSeconds(-i), HappeningKind.Link, "up");
        JournalTold told = new JournalReader(archive, _time).Read(now.AddYears(-1), null);
        Assert.True(told.IsCut);
        Assert.Equal(JournalReader.EachMax, told.Items.Count);
        Assert.Equal(JournalReader.SpanMax, told.To - told.From);
    }

    [Fact]
    public async Task The_terminal_tells_it_with_the_latest_last()
    {
        using (RigArchive archive = Open())
        {
            Add(archive, _time.GetUtcNow().AddMinutes(-9), HappeningKind.Alarm, "link lost", new By("Ida", By.Page));
            Add(archive, _time.GetUtcNow().AddMinutes(-5), HappeningKind.Link, "up");
        }

        (int status, string output, string said) = await CommandLine.RunAsync("journal", "--data", _folder);
        Assert.Equal(0, status);
        Assert.Matches("alarm  link lost  Ida \\(page\\)\\s+.*link  up", output.ReplaceLineEndings(" "));
        Assert.Contains("1 alarms", said, StringComparison.Ordinal);
        (_, string json, _) = await CommandLine.RunAsync("journal", "--data", _folder, "--json", "--hours", "0.1");
        Assert.DoesNotContain("link lost", json, StringComparison.Ordinal);
        Assert.Contains("\"code\":\"up\"", json, StringComparison.Ordinal);
    }

    private static void Add(RigArchive archive, DateTimeOffset at, HappeningKind kind, string code, By? by = null) =>
        archive.Diary.Add(new Happening { At = at, Kind = kind, Code = code, By = by });

    private RigArchive Open() => new(_folder, _time, NullLogger<RigArchive>.Instance);
}
