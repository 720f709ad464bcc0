using Microsoft.Extensions.Logging.Abstractions;
using RigDaq.Archive.Faults;
using RigDaq.Archive.Packages;
using RigDaq.Archive.Photos;
using RigDaq.Archive.Storage;
using RigDaq.Core.Pulls;
using RigDaq.Core.Runs;
using RigDaq.Core.Specimens;
using RigDaq.Tests.Shared;

namespace RigDaq.Archive.Tests.Packages;

/// <summary>What goes along besides the latest figures: every version of the study, what was changed, the photos.</summary>
public sealed class PackageHistoryTest : IDisposable
{
    private const string Id = "fan";
    private static readonly byte[] Jpeg = TinyPicture.Jpeg();

    private readonly TemporaryFolder _folder = new();
    private readonly RigArchive _archive;

    public PackageHistoryTest()
    {
        _archive = Open("data");
        Study study = Example.Study(Id) with
        {
            Prints = [Print.Of("P1", new GroupKey("Alder", "fan on", 210))],
            Specimens = [.. Enumerable.Range(1, 20).Select(i => new Specimen { Id = $"P1-{i}", PrintId = "P1", Setting = 210, Order = i })],
        };
        _archive.Studies.Save(study, "made");
        foreach (Specimen specimen in study.Specimens)
        {
            study = StudyCorrections.Measure(study, specimen.Id,
                new SectionMeasurement { WidthsMillimetres = [4.01], ThicknessesMillimetres = [4] });
            _archive.Studies.Save(study, $"measured {specimen.Id}");
        }

        study = StudyCorrections.RenameCondition(study, "fan on", "fan at full speed");
        _archive.Studies.Save(study, "clearer");
        _archive.Studies.Save(study with { Specimens = [.. study.Specimens.Skip(1)] }, "one was lost");
        _archive.Calibrations.Save(Example.Calibration());
        PullRecord pull = Example.Pull(Example.Head(1, Id), 300);
        _archive.Runs.Store(Example.Run(pull), pull, []);
        Run run = _archive.Runs.OfStudy(Id).Single();
        KeptPhoto photo = _archive.Photos.Keep(run.Head.RunId, 1, Jpeg);
        run =
            RunCorrections.Look(run,
            new FractureLook { Location = FractureLocation.AtGrip, PhotoName = photo.Name, PhotoSha256 = photo.Sha256, At = Example.Start },
            Example.Start);
        _archive.Runs.Revise(run, []);
        _archive.Runs.Revise(RunCorrections.Void(run, VoidKind.GripFailure, "at the jaw", Example.Start.AddMinutes(1)), []);
    }

    public void Dispose()
    {
        _archive.Dispose();
        _folder.Dispose();
    }

    [Fact]
    public async Task Every_version_of_the_study_is_restored_with_its_moment_and_its_reason()
    {
        await WriteAsync("package", new PackageOptions());
        using RigArchive other = Open("other");
        for (int again = 0; again < 2; again++) await StudyPackage.ReadAsync(other, _folder.In("package"));
        Assert.Equal(23, _archive.Studies.Versions(Id).Count);
        Assert.Equal(_archive.Studies.Versions(Id).Select(RecordText.Of), other.Studies.Versions(Id).Select(RecordText.Of));
        // Twenty versions that each change one specimen do not write the study twenty times.
        Assert.True(new FileInfo(_folder.In("package", "study-versions.jsonl")).Length < 10
            * new FileInfo(_folder.In("package", "study.json")).Length);
    }

    [Fact]
    public async Task A_later_package_of_the_same_study_adds_what_is_new_and_an_earlier_one_takes_nothing_back()
    {
        await WriteAsync("earlier", new PackageOptions());
        _archive.Studies.Save(_archive.Studies.Find(Id)! with { Name = "The fan" }, "named");
        await WriteAsync("later", new PackageOptions());
        using RigArchive other = Open("other");
        foreach (string package in new[] { "earlier", "later", "earlier" }) await StudyPackage.ReadAsync(other, _folder.In(package));
        Assert.Equal(_archive.Studies.Versions(Id).Select(RecordText.Of), other.Studies.Versions(Id).Select(RecordText.Of));
        Assert.Equal("The fan", other.Studies.Find(Id)!.Name);
    }

    [Fact]
    public async Task The_table_of_changes_says_what_was_changed_from_what_to_what_and_why()
    {
        await WriteAsync("package", new PackageOptions());
        string[] rows = await File.ReadAllLinesAsync(_folder.In("package", "history.csv"), TestContext.Current.CancellationToken);
        Assert.Equal(1 + 23 + 3, rows.Length);
        Assert.Contains(rows, row => row.Contains(",voided: at the jaw,left out,,,,grip failure: at the jaw", StringComparison.Ordinal));
        Assert.Contains(rows, row => row.Contains(",what the eye saw,look,,,,at the grip", StringComparison.Ordinal));
        Assert.Contains(rows, row => row.Contains("study,,,22,clearer,", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Photos_travel_with_their_checksum_unless_they_are_left_out()
    {
        await WriteAsync("package", new PackageOptions());
        string name = Path.GetFileName(Directory.GetFiles(_folder.In("package", "photos")).Single());
        using (RigArchive other = Open("other"))
        {
            for (int again = 0; again < 2; again++) await StudyPackage.ReadAsync(other, _folder.In("package"));
            Assert.Equal(Jpeg, await File.ReadAllBytesAsync(other.Photos.Find(name)!, TestContext.Current.CancellationToken));
            Assert.Empty(other.Verify());
        }

        await File.WriteAllBytesAsync(_folder.In("package", "photos", name), [.. Jpeg, 4], TestContext.Current.CancellationToken);
        using (RigArchive third = Open("third"))
        {
            InvalidDataException changed =
                await Assert.ThrowsAsync<InvalidDataException>(() => StudyPackage.ReadAsync(third, _folder.In("package")));
            Assert.Contains(name, changed.Message, StringComparison.Ordinal);
            Assert.Empty(third.Studies.All());
        }

        await WriteAsync("without", new PackageOptions { Photos = false });
        Assert.False(Directory.Exists(_folder.In("without", "photos")));
        Assert.Contains("1 photos were left out",
            await File.ReadAllTextAsync(_folder.In("without", "README.md"), TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_photo_of_another_content_is_refused_and_a_missing_one_is_told_and_left_out()
    {
        await WriteAsync("package", new PackageOptions());
        using RigArchive other = Open("other");
        string run = _archive.Runs.OfStudy(Id).Single().Head.RunId;
        other.Photos.Keep(run, 1, [.. Jpeg, 7]);
        await Assert.ThrowsAsync<ArchiveConflictException>(() => StudyPackage.ReadAsync(other, _folder.In("package")));
        Assert.Empty(other.Studies.All());

        File.Delete(_archive.Photos.Find($"{run}-1.jpg")!);
        PackagePhotos photos = StudyPackage.Photos(_archive, Id);
        Assert.Equal(0, photos.Count);
        Assert.Contains("is missing", Assert.Single(photos.Faults), StringComparison.Ordinal);
        await WriteAsync("without", new PackageOptions());
        using RigArchive third = Open("third");
        await StudyPackage.ReadAsync(third, _folder.In("without"));
        Same.Runs(_archive, third);
    }

    private Task<IReadOnlyList<string>> WriteAsync(string name, PackageOptions options)
        => StudyPackage.WriteAsync(_archive, Id, _folder.In(name), options);

    private RigArchive Open(string name) => new(_folder.In(name), TimeProvider.System, NullLogger.Instance);
}
