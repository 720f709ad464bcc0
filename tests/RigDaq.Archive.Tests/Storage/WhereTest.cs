using System.Collections;
using System.Reflection;
using LiteDB;
using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Records;

namespace RigDaq.Archive.Tests.Storage;

/// <summary>
/// What anybody asks for does not fill the memory: LiteDB compiles a text once and keeps it for ever, so no text may hold an
/// id.
/// </summary>
public sealed class WhereTest
{
    private const int Asked = 500;

    [Fact]
    public void Asking_for_ids_that_there_are_not_keeps_nothing_compiled()
    {
        using var folder = new TemporaryFolder();
        using var archive = new RigArchive(folder.Path, TimeProvider.System, NullLogger.Instance);
        string run = Example.Store(archive, 1).Head.RunId;
        Ask(archive, run, "alder-fan");
        int before = Compiled();
        for (int i = 0; i < Asked; i++) Ask(archive, Guid.NewGuid().ToString(), $"nobody's {i}");
        // Other tests may compile their few texts meanwhile.
        Assert.InRange(Compiled() - before, 0, Asked / 10);
        // The guard itself: a value in the text is kept.
        for (int i = 0; i < Asked; i++) Query.EQ("run", $"nobody's {i}");
        Assert.True(Compiled() - before >= Asked);
    }

    [Fact]
    public void A_value_with_signs_of_the_language_is_a_value()
    {
        using var database = new LiteDatabase(new MemoryStream());
        ILiteCollection<BsonDocument> rows = database.GetCollection("rows");
        rows.EnsureIndex("name");
        foreach (string name in new[] { "a'b", "a\"b", "@0", "$.name", "a" }) rows.Insert(new BsonDocument { ["name"] = name });
        foreach (string name in new[] { "a'b", "a\"b", "@0", "$.name", "a" })
        {
            Assert.Equal(name, Assert.Single(rows.Find(Where.Is("name", name)))["name"].AsString);
            BsonDocument plan = rows.Query().Where(Where.Is("name", name)).GetPlan();
            Assert.Contains("INDEX SEEK", plan["index"]["mode"].AsString, StringComparison.Ordinal);
        }

        Assert.Equal(3, rows.Find(Where.Begins("name", "a")).Count());
    }

    private static void Ask(RigArchive archive, string runId, string studyId)
    {
        archive.Runs.OfStudy(studyId);
        archive.Runs.Revisions(runId);
        archive.Runs.FindPull(runId);
        archive.Calibrations.OfDevice(studyId);
        archive.Diary.EmergencyStopTests(studyId);
        archive.Owner.Read(database => RunRows.Exists(database, runId));
        archive.Owner.Read(database => RunRows.Content(database, runId));
    }

    /// <summary>How many texts LiteDB has compiled: read from its own caches, which it does not show.</summary>
    private static int Compiled()
    {
        FieldInfo[] caches = [.. typeof(BsonExpression).GetFields(BindingFlags.Static | BindingFlags.NonPublic)
            .Where(field => field.Name.StartsWith("_cache", StringComparison.Ordinal))
            .Where(field => typeof(ICollection).IsAssignableFrom(field.FieldType))];
        Assert.NotEmpty(caches);
        return caches.Sum(cache => ((ICollection)cache.GetValue(null)!).Count);
    }
}
