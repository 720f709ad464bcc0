using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Packages;
using RigDaq.Archive.Records;
using RigDaq.Core.Specimens;

namespace RigDaq.Archive.Tests;

/// <summary>Which study is worked on is a fact like others: it outlives a restart, a rebuild, a backup and a lost journal.</summary>
public sealed class ActiveStudyTest : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task Without_a_choice_it_is_the_newest_that_was_made_here_and_never_one_that_was_imported()
    {
        using (RigArchive theirs = Open("theirs"))
        {
            theirs.Studies.Save(Example.Study("newest") with { CreatedAt = Example.Start.AddDays(9) }, "made");
            await StudyPackage.WriteAsync(theirs, "newest", _folder.In("package"), new PackageOptions());
        }

        using RigArchive archive = Open("data");
        await StudyPackage.ReadAsync(archive, _folder.In("package"));
        Assert.Equal(("newest", "package"), (archive.Studies.Origins["newest"].StudyId, archive.Studies.Origins["newest"].Package));
        Assert.Null(archive.Studies.Active());

        archive.Studies.Save(Example.Study("first"), "made");
        archive.Studies.Save(Example.Study("second") with { CreatedAt = Example.Start.AddDays(1) }, "made");
        Assert.Equal(("newest", "second"), (archive.Studies.All()[0].Id, archive.Studies.Active()?.Id));

        // A person may take up another's study all the same, and let go of it.
        archive.Studies.Choose("newest");
        Assert.Equal("newest", archive.Studies.Active()?.Id);
        archive.Studies.Choose(null);
        Assert.Equal("second", archive.Studies.Active()?.Id);
        Assert.Throws<ArgumentException>(() => archive.Studies.Choose("none"));
    }

    [Fact]
    public async Task A_later_package_of_a_study_that_was_made_here_does_not_make_it_anothers()
    {
        using (RigArchive archive = Open("data"))
        {
            archive.Studies.Save(Example.Study(), "made");
            await StudyPackage.WriteAsync(archive, Example.Study().Id, _folder.In("package"), new PackageOptions());
            await StudyPackage.ReadAsync(archive, _folder.In("package"));
            Assert.Empty(archive.Studies.Origins);
        }
    }

    [Fact]
    public void The_choice_comes_back_from_the_backup_the_journal_and_the_database()
    {
        using (RigArchive archive = Open("data"))
        {
            archive.Studies.Save(Example.Study("first"), "made");
            archive.Studies.Save(Example.Study("second") with { CreatedAt = Example.Start.AddDays(1) }, "made");
            archive.Owner
                .Commit(_ => Entries.Note(NoteKinds.Origin, "second", new StudyOrigin("second", "package", Example.Start), Example.Start),
                []);
            archive.Studies.Choose("first");
            archive.Backup(_folder.In("copy"));
        }

        RigArchive.Rebuild(_folder.In("data"), TimeProvider.System, NullLogger.Instance, (_, _) => throw new InvalidOperationException());
        Check("data");
        Check("copy");
        File.Delete(_folder.In("copy", "journal.jsonl"));
        Check("copy");
        RigArchive.Rebuild(_folder.In("copy"), TimeProvider.System, NullLogger.Instance, (_, _) => throw new InvalidOperationException());
        Check("copy");

        void Check(string name)
        {
            using RigArchive archive = Open(name);
            Assert.Equal("first", archive.Studies.Chosen);
            Assert.Equal(["second"], archive.Studies.Origins.Keys);
        }
    }

    private RigArchive Open(string name) => new(_folder.In(name), TimeProvider.System, NullLogger.Instance);
}
