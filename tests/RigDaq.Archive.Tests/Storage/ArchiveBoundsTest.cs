using LiteDB;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Records;
using RigDaq.Core.Runs;
using RigDaq.Core;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Tests.Storage;

/// <summary>What the archive keeps and takes, at each bound and one beyond it.</summary>
public sealed class ArchiveBoundsTest
{
    [Fact]
    public void LongestId_characters_are_an_id_and_one_more_is_none()
    {
        using var folder = new TemporaryFolder();
        using var archive = new RigArchive(folder.Path, TimeProvider.System, NullLogger.Instance);
        Study study = new() { Id = new string('s', RigArchive.LongestId), Name = "long", CreatedAt = Example.Start, Seed = 1 };
        archive.Studies.Save(study, "made");
        Assert.Equal(study.Id, Assert.Single(archive.Studies.All()).Id);
        Assert.Throws<RefusalException>(() => archive.Studies.Save(study with { Id = study.Id + "s" }, "made"));
        Assert.Single(archive.Studies.All());
    }

    [Fact]
    public void Of_more_messages_than_may_wait_the_oldest_go()
    {
        using var database = new LiteDatabase(new MemoryStream());
        // Fewer than OutboxRows.Limit, which is handed over: a hundred thousand take long.
        const int Limit = 20;
        OutboxMessage[] messages =
            [.. Enumerable.Range(1, Limit).Select(i => new OutboxMessage($"runs/{i}", "{}"u8.ToArray(), Retain: false))];
        long last = OutboxRows.Add(database, messages, 0);
        Assert.Equal(0, OutboxRows.Trim(database, Limit));
        OutboxRows.Add(database, [messages[0] with { Topic = "runs/new" }], last);
        Assert.Equal(1, OutboxRows.Trim(database, Limit));
        List<(long Number, OutboxMessage Message)> left = OutboxRows.Oldest(database, Limit);
        Assert.Equal(("runs/2", "runs/new"), (left[0].Message.Topic, left[^1].Message.Topic));
        Assert.Equal(100_000, OutboxRows.Limit);
    }
}
